import { formatNumber } from "../../units/index.ts";
import { nonlinearLeastSquares, seededRandom } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { CurveStarts } from "./curve-fit.ts";
import type { Curve } from "./curve-model.ts";
import type { CurveTable } from "./curve-table.ts";

export interface StartOptions {
  /** How many starts are tried, the given one first. Default 1; at most 1000. */
  readonly starts?: number;
  /** Of the drawn starts. Default 1. */
  readonly seed?: number;
  /** Where the starts of a parameter are drawn from, evenly (by ratios where both ends are above zero). */
  readonly ranges?: Readonly<Record<string, readonly [number, number]>>;
  /** A parameter without a range is drawn from start / spread to start × spread (around 0: from −1 to 1). Default 10. */
  readonly spread?: number;
}

/** First trust radii, tried in turn until a search converges; the middle one is right for most starts. */
const radii = [1, 0.1, 100];

const settled = ({ outcome }: NonlinearFit): boolean => outcome === "converged" || outcome === "exact";

/** Sums of squares that agree to so many parts belong to one minimum. */
const same = 1e-7;

export function searched(
  model: NonlinearModel,
  curve: Curve,
  { response, weights }: CurveTable,
  start: Float64Array,
): NonlinearFit {
  let best: NonlinearFit | null = null;
  for (const firstRadius of radii) {
    // The last road searches for all parameters, in case solving for some is what led astray.
    const linear = firstRadius === 100 ? [] : curve.linear;
    const fit = nonlinearLeastSquares(model, response.values, start, { linear, firstRadius, weights });
    if (settled(fit)) return fit;
    if (
      best === null ||
      fit.residualSumOfSquares < best.residualSumOfSquares ||
      best.outcome === "not-finite"
    )
      best = fit;
  }
  return best!;
}

/** Searches from the given start and from drawn ones; the least sum of squares among those that settled is kept. */
export function searchedFromMany(
  model: NonlinearModel,
  curve: Curve,
  data: CurveTable,
  first: Float64Array,
  options: StartOptions,
): { readonly fit: NonlinearFit; readonly starts: CurveStarts | null } {
  const { starts = 1, seed = 1, spread = 10, ranges = {} } = options;
  if (!Number.isInteger(starts) || starts < 1 || starts > 1000)
    throw modelError(`${starts} starts`, "a whole number from 1 to 1000");
  if (!(spread > 1 && Number.isFinite(spread)))
    throw modelError(`a spread of ${spread}`, "a number above 1, such as 10");
  const drawFrom = curve.parameters.map((name, k) => drawerFor(name, first[k], ranges[name], spread));
  const stray = Object.keys(ranges).find((name) => !curve.parameters.includes(name));
  if (stray !== undefined)
    throw modelError(
      `a range for ${stray}, which is no parameter with a start`,
      `one of ${curve.parameters.join(", ")}`,
    );
  if (starts === 1) return { fit: searched(model, curve, data, first), starts: null };
  const random = seededRandom(seed);
  const fits: NonlinearFit[] = [];
  for (let k = 0; k < starts; k++) {
    const start = k === 0 ? first : Float64Array.from(drawFrom, (draw) => draw(random.next()));
    fits.push(searched(model, curve, data, start));
  }
  const can = fits.filter(({ outcome }) => outcome !== "not-finite");
  const ended = can.filter(settled);
  const among = ended.length > 0 ? ended : can;
  if (among.length === 0) return { fit: fits[0], starts: null };
  const fit = among.reduce((best, one) =>
    one.residualSumOfSquares < best.residualSumOfSquares ? one : best,
  );
  const reached = ended.filter((one) => near(one.residualSumOfSquares, fit.residualSumOfSquares)).length;
  const others = ended
    .map(({ residualSumOfSquares }) => residualSumOfSquares)
    .filter((sum) => !near(sum, fit.residualSumOfSquares))
    .sort((a, b) => a - b)
    .filter((sum, i, all) => i === 0 || !near(sum, all[i - 1]));
  const told = {
    tried: starts,
    seed,
    settled: ended.length,
    reached,
    notComputable: starts - can.length,
    others,
  };
  return { fit, starts: { ...told, sentence: inWords(told) } };
}

function near(one: number, least: number): boolean {
  return one - least <= same * Math.max(one, least);
}

function drawerFor(
  name: string,
  start: number,
  range: readonly [number, number] | undefined,
  spread: number,
): (share: number) => number {
  if (range === undefined)
    return start === 0 ? (share) => 2 * share - 1 : (share) => start * spread ** (2 * share - 1);
  const [low, high] = range;
  if (!(Number.isFinite(low) && Number.isFinite(high) && low < high))
    throw modelError(
      `${name} from ${low} to ${high} as a range of starts`,
      "two finite numbers, the lower first",
    );
  return low > 0 ? (share) => low * (high / low) ** share : (share) => low + share * (high - low);
}

function inWords({
  tried,
  seed,
  settled: ended,
  reached,
  notComputable,
  others,
}: Omit<CurveStarts, "sentence">): string {
  if (ended === 0) return `None of ${tried} starts (seed ${seed}) led to a settled fit.`;
  const bad = notComputable === 0 ? "" : ` At ${notComputable} the curve could not be computed.`;
  const other =
    others.length === 0
      ? ""
      : ` ${others.length === 1 ? "Another minimum was" : `${others.length} other minima were`} met, the next with ${others[0] > 0 ? "a sum of squares of " : ""}${formatNumber(others[0], { digits: 4 })}.`;
  const doubt =
    reached === 1 && tried > 1 ? " One start alone is little to rely on: try more, or narrower ranges." : "";
  return `${reached} of ${tried} starts (seed ${seed}) reached the best fit.${bad}${other}${doubt}`;
}
