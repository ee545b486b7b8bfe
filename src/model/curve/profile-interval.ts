import { brentRoot, nonlinearLeastSquares } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";

/** The ends of a profile-likelihood interval; null where the data set no bound on that side. */
export interface ProfileInterval {
  readonly low: number | null;
  readonly high: number | null;
}

/** Doublings of the distance from the estimate before an end counts as open. */
const mostDoublings = 30;

/**
 * The values of one parameter at which the sum of squares, least over all the others, is no more than t² residual variances above its minimum. Unlike the
 * linear interval it does not change with the way the parameter is written down. The curve is fitted anew at each value tried, from the last one's parameters;
 * values at which the curve can't be computed count as outside. Ends are right to 1e-9 of a standard error.
 * Source: Bates and Watts 1988, Nonlinear Regression Analysis, 6.1.2.
 */
export function profileInterval(
  model: NonlinearModel,
  response: Float64Array,
  fit: NonlinearFit,
  options: {
    readonly parameter: number;
    readonly standardError: number;
    readonly t: number;
    readonly linear: readonly number[];
    readonly weights: Float64Array | undefined;
  },
): ProfileInterval {
  const { parameter, standardError, t, linear, weights } = options;
  const estimate = fit.parameters[parameter];
  const variance = fit.residualSumOfSquares / fit.df;
  const end = (direction: 1 | -1): number | null => {
    let warm = fit.parameters;
    const excess = (value: number): number => {
      const start = Float64Array.from(warm);
      start[parameter] = value;
      const at = nonlinearLeastSquares(model, response, start, { weights, linear, fixed: [parameter] });
      if (at.outcome === "not-finite") return Infinity;
      warm = at.parameters;
      return Math.sqrt(Math.max(0, at.residualSumOfSquares - fit.residualSumOfSquares) / variance) - t;
    };
    let inside = estimate;
    for (let k = 0; k < mostDoublings; k++) {
      const outside = estimate + direction * t * standardError * 2 ** k;
      if (excess(outside) >= 0)
        return brentRoot(excess, inside, outside, { tolerance: 1e-9 * standardError });
      inside = outside;
    }
    return null;
  };
  return { low: end(-1), high: end(1) };
}
