import { nonlinearLeastSquares } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";

/** How much worse a fit becomes as one parameter is held away from its estimate, the others fitted anew. */
export interface ParameterProfile {
  readonly name: string;
  readonly unit: string;
  readonly estimate: number;
  /** Where the curve crosses `limit`; null where it never does on that side. */
  readonly low: number | null;
  readonly high: number | null;
  readonly confidence: number;
  /** Student's t of the confidence: values whose `root` lies within ± this are in the interval. */
  readonly limit: number;
  /** `root` is ±√((sum of squares − least sum of squares) / residual variance), below zero under the estimate. */
  readonly points: readonly { readonly value: number; readonly root: number }[];
}

/**
 * The profile of one parameter from `low` to `high`, walked from the estimate outwards with each fit starting where the last one ended. Values at which the curve can't be computed are left
 * out. A straight line says that estimate ± t standard errors would do; a bent one, that the interval must be lopsided. Source: Bates and Watts 1988,
 * Nonlinear Regression Analysis, 6.1.2.
 */
export function profileTrace(
  model: NonlinearModel,
  response: Float64Array,
  fit: NonlinearFit,
  options: {
    readonly parameter: number;
    readonly low: number;
    readonly high: number;
    readonly linear: readonly number[];
    readonly weights: Float64Array | undefined;
    /** On each side of the estimate. Default 24. */
    readonly steps?: number;
  },
): ParameterProfile["points"] {
  const { parameter, low, high, linear, weights, steps = 24 } = options;
  const estimate = fit.parameters[parameter];
  const variance = fit.residualSumOfSquares / fit.df;
  const side = (end: number) => {
    const points: { value: number; root: number }[] = [];
    let warm = fit.parameters;
    for (let k = 1; k <= steps; k++) {
      const value = estimate + ((end - estimate) * k) / steps;
      const start = Float64Array.from(warm);
      start[parameter] = value;
      const at = nonlinearLeastSquares(model, response, start, { weights, linear, fixed: [parameter] });
      if (at.outcome === "not-finite") break;
      warm = at.parameters;
      const worse = Math.max(0, at.residualSumOfSquares - fit.residualSumOfSquares) / variance;
      points.push({ value, root: Math.sign(end - estimate) * Math.sqrt(worse) });
    }
    return points;
  };
  return [...side(low).reverse(), { value: estimate, root: 0 }, ...side(high)];
}
