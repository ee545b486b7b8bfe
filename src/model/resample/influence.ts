import { refitter, seededRandom } from "../../numerics/index.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { columnsOf, requirePlainFit } from "./bootstrap-order.ts";
import { targetsOf } from "./bootstrap-targets.ts";

/** An effect with all runs and with one left out, on the response's own scale (a ratio on the log scale). */
export interface EffectWithout {
  readonly label: string;
  readonly as: "difference" | "ratio";
  readonly all: number;
  readonly without: number;
  /** How far it moves, in half-widths of its interval; null without one. */
  readonly moved: number | null;
}

/** Each effect when one run is left out with all of its readings; null where the other runs can't tell the terms apart. */
export function effectsWithoutRun(fit: Fit, run: number): readonly EffectWithout[] | null {
  requirePlainFit(fit, "leaving a run out");
  const { reweigh } = refitter(
    columnsOf(fit).map((high) => ({ high })),
    fit.weights === null ? {} : { weights: Float64Array.from(fit.weights) },
  );
  const left = reweigh(
    Float64Array.from(fit.rows, ({ value }) => value),
    Float64Array.from(fit.rows, (row) => (row.run === run ? 0 : 1)),
  );
  if (left === undefined) return null;
  return targetsOf(fit, {})
    .filter(({ reason }) => reason === "")
    .map(({ label, as, combination, estimate, exponential, byT }) => {
      const without = left.coefficients.reduce((sum, value, k) => sum + combination[k] * value, 0);
      const back = (value: number): number => (exponential ? Math.exp(value) : value);
      const scale = (value: number): number => (exponential ? Math.log(value) : value);
      const half = byT === null ? 0 : (scale(byT.high) - scale(byT.low)) / 2;
      return {
        label,
        as: as === "ratio" ? "ratio" : "difference",
        all: back(estimate),
        without: back(without),
        moved: half > 0 ? Math.abs(without - estimate) / half : null,
      };
    });
}

/** The run that moves the fit most, and the chance that the most influential of clean runs at these settings moves it as much. */
export interface MostInfluential {
  readonly run: number;
  readonly cookDistance: number;
  readonly p: number;
}

const draws = 199;
/** Beyond so many rows one run hardly moves a fit, and the draws take long. */
const mostRows = 2000;

/**
 * The run with the largest Cook's distance (Cook 1977), judged by drawing: 199 clean responses at the same settings, each fitted, and its own largest distance noted. The p of
 * such a draw test is exact for normal scatter (Barnard 1963): p ≤ 0.05 in 5 of 100 clean trials, however the leverages lie. Null where distances can't be
 * computed, with random sources, where rows are readings of one run, and beyond 2,000 rows. `seed` is that of the draws, default 1.
 */
export function mostInfluential(fit: Fit, options: { readonly seed?: number } = {}): MostInfluential | null {
  const { seed = 1 } = options;
  const { rows } = fit;
  if (isMixedFit(fit) || rows.length > mostRows || fit.residualDf < 3) return null;
  if (new Set(rows.map(({ run }) => run)).size < rows.length) return null;
  let most = -1;
  for (const [i, { cookDistance }] of rows.entries())
    if (cookDistance !== null && (most < 0 || cookDistance > rows[most].cookDistance!)) most = i;
  if (most < 0) return null;
  const columns = columnsOf(fit);
  // A row of weight w scatters by 1/√w; residuals are told by √w times their size.
  const root = Float64Array.from(rows, (_, i) => Math.sqrt(fit.weights?.[i] ?? 1));
  const { refit, kept } = refitter(
    columns.map((high) => ({ high })),
    fit.weights === null ? {} : { weights: Float64Array.from(fit.weights) },
  );
  const random = seededRandom(seed);
  const response = new Float64Array(rows.length);
  // Of Cook's distance all but what the draws share: squared residual × leverage / (1 − leverage)², over the residual sum of squares.
  const share = rows.map(({ leverage }) =>
    leverage !== null && 1 - leverage > 1e-10 ? leverage / (1 - leverage) ** 2 : 0,
  );
  const largest = (residuals: ArrayLike<number>, sum: number): number =>
    share.reduce((top, one, i) => Math.max(top, (one * (root[i] * residuals[i]) ** 2) / sum), 0);
  const own = rows.map(({ residual }) => residual);
  const seen = largest(
    own,
    own.reduce((sum, value, i) => sum + (root[i] * value) ** 2, 0),
  );
  let asLarge = 0;
  for (let draw = 0; draw < draws; draw++) {
    for (let i = 0; i < response.length; i++) response[i] = root[i] > 0 ? random.normal() / root[i] : 0;
    const { coefficients, residualSumOfSquares } = refit(response);
    const residuals = Float64Array.from(response);
    kept.forEach((column, k) => {
      for (let i = 0; i < residuals.length; i++) residuals[i] -= coefficients[k] * columns[column][i];
    });
    if (largest(residuals, residualSumOfSquares) >= seen) asLarge++;
  }
  return { run: rows[most].run, cookDistance: rows[most].cookDistance!, p: (1 + asLarge) / (1 + draws) };
}
