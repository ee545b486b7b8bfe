import { seededRandom } from "../../numerics/index.ts";
import type { Factor, Settings } from "../../trial/index.ts";
import { settingAt } from "../levels.ts";
import type { ModelChoice } from "./model-columns.ts";
import type { JudgedRun, ScatterChoice } from "./told.ts";
import { meanPrecision } from "./variance-at.ts";

/** How well a layout predicts over the region low..high; variances of the predicted mean, for σ = 1. */
export interface Precision {
  /** Rising: entry i is the variance that the share (i + 0.5)/length of the region stays below. */
  readonly variances: readonly number[];
  readonly average: number;
  /** The worst corner (all quantities at low or high, every combination of categories) and its variance. */
  readonly worstCorner: { readonly settings: Settings; readonly variance: number };
  /** Coefficients over runs × the worst variance seen: 1 is the best that any layout can reach (G). */
  readonly G: number;
}

/** Corners are all looked at up to this many; beyond, drawn ones stand for them. */
const MOST_CORNERS = 4096;

/**
 * Precision over the region: the variance of the predicted mean at `points` settings drawn evenly over it from a seed, and
 * at its corners. Use it to compare layouts for finding a best setting. Blocks are averaged over; set-ups that scatter
 * widen it by generalised least squares at `varianceRatio`. Refuses a model whose terms
 * the runs can't tell apart. The shares are good to about 1/√points.
 */
export function precisionOver(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  options: ModelChoice & ScatterChoice & { readonly points?: number; readonly seed?: number } = {},
): Precision {
  const { points = 1000, seed = 1 } = options;
  const { variancesAt, coefficients } = meanPrecision(runs, factors, options);
  const random = seededRandom(seed);
  const draw = (coded: () => number): Settings =>
    Object.fromEntries(
      factors.map((factor) => [
        factor.name,
        factor.kind === "quantity"
          ? settingAt(factor, coded())
          : (factor.levels[random.integer(factor.levels.length)] ?? ""),
      ]),
    );
  const inside = variancesAt(Array.from({ length: points }, () => draw(() => 2 * random.next() - 1)));
  const corners =
    cornersOf(factors) ??
    Array.from({ length: MOST_CORNERS }, () => draw(() => (random.integer(2) === 0 ? -1 : 1)));
  const atCorners = variancesAt(corners);
  const worst = atCorners.reduce(
    (most, variance, place) => (variance > (atCorners[most] ?? 0) ? place : most),
    0,
  );
  const cornerVariance = atCorners[worst] ?? 0;
  return {
    variances: [...inside].sort((one, other) => one - other),
    average: inside.reduce((sum, variance) => sum + variance, 0) / inside.length,
    worstCorner: { settings: corners[worst] ?? {}, variance: cornerVariance },
    G: coefficients / runs.length / Math.max(cornerVariance, ...inside),
  };
}

function cornersOf(factors: readonly Factor[]): readonly Settings[] | undefined {
  const lists = factors.map((factor) =>
    factor.kind === "quantity" ? [factor.low, factor.high] : factor.levels,
  );
  if (lists.reduce((product, list) => product * list.length, 1) > MOST_CORNERS) return undefined;
  let found: readonly Settings[] = [{}];
  factors.forEach((factor, place) => {
    found = found.flatMap((settings) =>
      (lists[place] ?? []).map((level) => ({ ...settings, [factor.name]: level })),
    );
  });
  return found;
}
