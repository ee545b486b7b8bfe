import { nonlinearProblem } from "./nonlinear-model.ts";
import type { NonlinearModel, NonlinearProblem } from "./nonlinear-model.ts";
import { polished } from "./nonlinear-polish.ts";
import { stateAt } from "./nonlinear-state.ts";
import type { NonlinearState } from "./nonlinear-state.ts";
import { trustRegionStep } from "./trust-region-step.ts";

/**
 * How a search ended. "converged": relative offset below the threshold. "exact": the residuals are no larger than rounding. "inseparable": no better place
 * nearby, but some parameters can't be told apart there (or no longer matter). "stalled": no step lowers the sum of squares and the offset is still too
 * large. "limit": iterations used up. "not-finite": value or derivative at the start can't be computed.
 */
export type NonlinearOutcome = "converged" | "exact" | "inseparable" | "stalled" | "limit" | "not-finite";

export interface NonlinearOptions {
  /** Inverse variances up to a factor. Default: all alike. */
  readonly weights?: Float64Array;
  /** Parameters in which the model is linear, all at once; they need no start and are projected out. Default none. */
  readonly linear?: readonly number[];
  /** Parameters that stay at their start. Default none. */
  readonly fixed?: readonly number[];
  /** Default 1000. */
  readonly maxIterations?: number;
  /** First trust radius, relative to the size of the start. Default 1. */
  readonly firstRadius?: number;
}

export interface NonlinearFit {
  readonly outcome: NonlinearOutcome;
  readonly parameters: Float64Array;
  readonly fitted: Float64Array;
  /** response − fitted, unweighted. */
  readonly residuals: Float64Array;
  /** Σ weight × residual². */
  readonly residualSumOfSquares: number;
  /** rows × parameters at the solution, column by column. */
  readonly jacobian: Float64Array;
  /** Rows of weight above 0 less free parameters. */
  readonly df: number;
  /** Length of the residuals' part that a step could still take away, against their rest, each by its degrees of freedom; null where no rest is left. */
  readonly relativeOffset: number | null;
  /** How large an offset rounding of the model's values alone can make; standard errors err by about this much, relatively. */
  readonly roundingOffset: number | null;
  /** Free parameters that can't be told from the others here. */
  readonly inseparable: readonly number[];
  readonly iterations: number;
}

/** At or below this offset a fit counts as converged. Bates and Watts ask for 0.001; with exact derivatives far less is reached. */
export const convergedOffset = 1e-6;
/** The search goes on down to here before the last digits are polished. */
const searchOffset = 1e-8;

/**
 * Minimises Σ weight·(response − model)² over the free parameters.
 *
 * A trust-region search on the parameters that enter nonlinearly, those in `linear` being solved for at every step, with the derivatives that the model
 * gives; then Gauss–Newton steps with the refined least squares of this folder, until the last digits stand. Convergence is judged by the relative offset, which
 * measures the distance from the best fit in units of the uncertainty and so has no unit and no scale. It finds the minimum that its start leads to: try
 * several starts where there may be more than one.
 * Refused: lengths that differ, non-finite input. A start at which the model can't be computed is the outcome "not-finite".
 * Source: Moré 1978 (see `trustRegionStep`); Golub and Pereyra 1973 (see `stateAt`); Bates and Watts 1988, Nonlinear Regression Analysis, 2.2.3 and 3.5.
 * Example: value exp(b·x) at x 0, 1, 2 for 1, 2, 4, from b = 0, ends at b = ln 2.
 */
export function nonlinearLeastSquares(
  model: NonlinearModel,
  response: Float64Array,
  start: Float64Array,
  options: NonlinearOptions = {},
): NonlinearFit {
  const { weights, linear = [], fixed = [], maxIterations = 1000, firstRadius = 1 } = options;
  const problem = nonlinearProblem(model, response, start, { weights, linear, fixed });
  const first = stateAt(problem, start);
  if (first === null) return notFinite(problem, start);
  const searched = search(problem, first, maxIterations, firstRadius);
  const { state, offset, roundingOffset, exact, inseparable } = polished(problem, searched.state);
  // Where residuals are near rounding, an offset that rounding makes is no distance from the minimum.
  const enough = Math.min(0.1, Math.max(convergedOffset, roundingOffset ?? 0));
  const outcome: NonlinearOutcome =
    inseparable.length > 0
      ? "inseparable"
      : exact
        ? "exact"
        : offset !== null && offset <= enough
          ? "converged"
          : searched.limit
            ? "limit"
            : "stalled";
  return {
    outcome,
    parameters: state.parameters,
    fitted: state.fitted,
    residuals: response.map((value, i) => value - state.fitted[i]),
    residualSumOfSquares: state.residualSumOfSquares,
    jacobian: state.jacobian,
    df: problem.counted - problem.linear.length - problem.searched.length,
    relativeOffset: offset,
    roundingOffset,
    inseparable,
    iterations: searched.iterations,
  };
}

/** The trust-region search. Radius and acceptance follow Moré 1978. */
function search(
  problem: NonlinearProblem,
  first: NonlinearState,
  maxIterations: number,
  firstRadius: number,
): { readonly state: NonlinearState; readonly iterations: number; readonly limit: boolean } {
  let state = first;
  const scale = new Float64Array(problem.model.parameters);
  let radius = -1;
  let iterations = 0;
  for (; iterations < maxIterations; iterations++) {
    const { moving } = state;
    // Nothing left to move, or near enough for the last digits to be settled without a trust region.
    if (moving.length === 0 || offsetOf(problem, state) <= searchOffset)
      return { state, iterations, limit: false };
    enlarge(scale, state);
    const size = Math.hypot(...moving.map((k) => scale[k] * state.parameters[k]));
    if (radius < 0) radius = firstRadius * (size > 0 ? size : 1);
    const { step, length, promised, full } = trustRegionStep(
      state.triangle,
      state.aimed,
      Float64Array.from(moving, (k) => scale[k]),
      radius,
    );
    if (!(promised > 1e-15 * state.residualSumOfSquares)) return { state, iterations, limit: false };
    const target = Float64Array.from(state.parameters);
    moving.forEach((k, i) => (target[k] += step[i]));
    const trial = stateAt(problem, target);
    const ratio =
      trial === null ? -Infinity : (state.residualSumOfSquares - trial.residualSumOfSquares) / promised;
    if (ratio <= 0.25) radius = (ratio < -1 ? 0.1 : 0.5) * Math.min(radius, length);
    else if (ratio >= 0.75 || full) radius = Math.max(radius, 2 * length);
    if (trial !== null && ratio > 1e-4) state = trial;
    else if (radius <= 1e-15 * size || radius === 0) return { state, iterations, limit: false };
  }
  return { state, iterations, limit: true };
}

/** Bates and Watts 1988, (2.14). */
function offsetOf({ counted, linear, searched }: NonlinearProblem, state: NonlinearState): number {
  const reached = state.aimed.reduce((total, value) => total + value * value, 0);
  const rest = state.residualSumOfSquares - reached;
  const free = linear.length + searched.length;
  if (!(rest > 0) || counted <= free) return reached === 0 ? 0 : Infinity;
  return Math.sqrt(reached / free / (rest / (counted - free)));
}

/** Each parameter's scale is the largest projected derivative so far, so that the search does not depend on units. */
function enlarge(scale: Float64Array, { moving, triangle }: NonlinearState): void {
  const size = moving.length;
  moving.forEach((k, column) => {
    scale[k] = Math.max(
      scale[k],
      Math.hypot(...triangle.subarray(column * size, column * size + column + 1)),
    );
  });
}

function notFinite(
  { model, counted, linear, searched }: NonlinearProblem,
  start: Float64Array,
): NonlinearFit {
  const fitted = new Float64Array(model.rows);
  const jacobian = new Float64Array(model.rows * model.parameters);
  model.evaluate(start, fitted, jacobian);
  return {
    outcome: "not-finite",
    parameters: Float64Array.from(start),
    fitted,
    residuals: new Float64Array(model.rows).fill(NaN),
    residualSumOfSquares: NaN,
    jacobian,
    df: counted - linear.length - searched.length,
    relativeOffset: null,
    roundingOffset: null,
    inseparable: [],
    iterations: 0,
  };
}
