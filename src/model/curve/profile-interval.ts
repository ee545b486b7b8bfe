import { brentRoot, nonlinearLeastSquares } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";

/** The ends of a profile-likelihood interval; null where the data set no bound on that side. */
export interface ProfileInterval {
  readonly low: number | null;
  readonly high: number | null;
}

/** Stands for the excess where there is no curve: outside, and finite for the search. */
const noCurve = 1e6;
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
  const fitted = (value: number, from: Float64Array): NonlinearFit => {
    const start = Float64Array.from(from);
    start[parameter] = value;
    return nonlinearLeastSquares(model, response, start, { weights, linear, fixed: [parameter] });
  };
  const end = (direction: 1 | -1): number | null => {
    // Each value is searched from the last one that was inside, and, where that leads outside, from the last of all and the estimate as well:
    // a search that ends in a second valley would make a value look worse than it is.
    let lastInside = fit.parameters;
    let last = fit.parameters;
    const known = new Map([[estimate, -t]]);
    const excess = (value: number): number => {
      const before = known.get(value);
      if (before !== undefined) return before;
      let least = noCurve;
      for (const from of [lastInside, last, fit.parameters]) {
        const at = fitted(value, from);
        if (at.outcome === "not-finite") continue;
        const here =
          Math.sqrt(Math.max(0, at.residualSumOfSquares - fit.residualSumOfSquares) / variance) - t;
        if (here < least) {
          least = here;
          last = at.parameters;
        }
        if (least < 0) {
          lastInside = last;
          break;
        }
      }
      known.set(value, least);
      return least;
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
