import { choleskyFactor, choleskyInverse } from "./small-symmetric.ts";
import { levelEffects } from "./level-effects.ts";
import type { RandomSource } from "./random-source.ts";
import type { RemlFit } from "./reml.ts";
import { rowLeverages } from "./row-leverage.ts";
import { withinScatter } from "./within-scatter.ts";

/** The rows of a mixed fit as told by the fixed part and the levels together. */
export interface ConditionalRows {
  /** By the fixed part alone. */
  readonly fixed: Float64Array;
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  /** Null beyond 3000 rows of sources that cross, where one solution a row would keep the reader waiting. */
  readonly leverage: Float64Array | null;
  /** Predicted effects of the levels, one list a source. */
  readonly effects: readonly Float64Array[];
  /** Scatter that neither fixed columns nor levels explain, with its degrees of freedom. */
  readonly within: { readonly df: number; readonly sumOfSquares: number };
}

/** Fitted values, residuals, leverages and the levels' effects (best linear unbiased predictions) of a mixed fit. */
export function conditionalRows(
  fit: RemlFit,
  sources: readonly RandomSource[],
  response: Float64Array,
): ConditionalRows {
  const { at, basis, plain, system, scale } = fit;
  const { rank } = system;
  const d = rank + 1;
  const residual = at.variances[sources.length];
  const ratios = Float64Array.from(sources, (_, k) => at.variances[k] / residual);
  const cross = at.evaluated.cross[0];
  const square = Float64Array.from({ length: rank * rank }, (_, k) => {
    const [a, b] = [Math.floor(k / rank), k % rank];
    return cross[Math.min(a, b) * d + Math.max(a, b)];
  });
  const covariance = choleskyInverse(choleskyFactor(square, rank, 0)!, rank);
  const shift = new Float64Array(rank);
  for (let a = 0; a < rank; a++)
    for (let b = 0; b < rank; b++) shift[a] += covariance[a * rank + b] * cross[b * d + rank];
  // What generalised least squares leaves, from what plain least squares left.
  const rest = plain.residuals.slice();
  basis.directions.forEach((direction, k) => {
    for (let i = 0; i < rest.length; i++) rest[i] -= scale * shift[k] * direction[i];
  });
  const { effects, residuals } = levelEffects(sources, ratios, rest);
  const within = withinScatter(system);
  return {
    fixed: response.map((value, i) => value - rest[i]),
    fitted: response.map((value, i) => value - residuals[i]),
    residuals,
    leverage: rowLeverages(sources, ratios, basis.directions, covariance),
    effects,
    within: { df: within.df, sumOfSquares: within.sumOfSquares * scale * scale },
  };
}
