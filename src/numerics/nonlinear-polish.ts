import { leastSquares } from "./least-squares.ts";
import type { NonlinearProblem } from "./nonlinear-model.ts";
import { stateAt } from "./nonlinear-state.ts";
import type { NonlinearState } from "./nonlinear-state.ts";
import { dot, largest } from "./vector.ts";

/** The end of a search with its last digits settled and its offset measured on all free parameters. */
export interface Polished {
  readonly state: NonlinearState;
  /** Null where no residual degrees of freedom or no residual is left to measure by. */
  readonly offset: number | null;
  /** The offset that rounding of the model's own values can make; null where the offset can't be measured. */
  readonly roundingOffset: number | null;
  /** The residuals are no larger than rounding of response and curve. */
  readonly exact: boolean;
  readonly inseparable: readonly number[];
}

/** Near a minimum with much curvature each Gauss–Newton step gains less than a digit, so many are allowed; each costs one factorisation. */
const mostSteps = 100;
/** The last steps gain nothing once rounding is reached. */
const worthwhile = 0.95;
/** A model's value is taken to be wrong by this many roundings of the largest response; residuals no larger than that are rounding. */
const roundings = 4;

/**
 * Gauss–Newton steps on all free parameters at once, as long as each brings the offset down (the sum of squares is blind to the last half of the digits),
 * then one by refined least squares. What remains is the rounding of the model's own values.
 */
export function polished(problem: NonlinearProblem, end: NonlinearState): Polished {
  const free = [...problem.linear, ...problem.searched].sort((a, b) => a - b);
  const whole: NonlinearProblem = { ...problem, linear: [], searched: free };
  const begun = stateAt(whole, end.parameters);
  let state = begun ?? end;
  for (let steps = 0; begun !== null && steps < mostSteps && state.spanned.length === 0; steps++) {
    const next = stateAt(whole, stepped(state.parameters, state.moving, gaussNewton(state)));
    const better =
      next !== null &&
      length(next.aimed) < worthwhile * length(state.aimed) &&
      next.residualSumOfSquares <= state.residualSumOfSquares * (1 + 1e-9);
    if (!better) break;
    state = next;
  }
  let last = measured(whole, state);
  if (last.step !== null) {
    const next = stateAt(whole, stepped(state.parameters, free, last.step));
    const after = next === null ? null : measured(whole, next);
    if (after !== null && after.size < last.size) last = after;
  }
  const { state: best, offset, inseparable } = last;
  const rounding =
    roundings * Number.EPSILON * largest(problem.response.map((y, i) => y * problem.rootWeights[i]));
  const sd = Math.sqrt(best.residualSumOfSquares / problem.counted);
  return {
    state: best,
    offset,
    roundingOffset: offset === null ? null : rounding / sd,
    exact: sd <= rounding,
    inseparable,
  };
}

function stepped(from: Float64Array, which: readonly number[], step: Float64Array): Float64Array {
  const target = Float64Array.from(from);
  which.forEach((k, i) => (target[k] += step[i]));
  return target;
}

function length(vector: Float64Array): number {
  return Math.sqrt(dot(vector, 0, vector, 0, vector.length));
}

/** R⁻¹ · aimed. */
function gaussNewton({ triangle, aimed }: NonlinearState): Float64Array {
  const size = aimed.length;
  const step = Float64Array.from(aimed);
  for (let k = size - 1; k >= 0; k--) {
    step[k] /= triangle[k * size + k];
    for (let j = 0; j < k; j++) step[j] -= step[k] * triangle[k * size + j];
  }
  return step;
}

interface Measured {
  readonly state: NonlinearState;
  readonly step: Float64Array | null;
  /** Length of the residuals' part that the step would take away. */
  readonly size: number;
  readonly offset: number | null;
  readonly inseparable: readonly number[];
}

function measured(problem: NonlinearProblem, state: NonlinearState): Measured {
  const { model, rootWeights, searched: free, counted } = problem;
  const { rows } = model;
  if (free.length === 0) return { state, step: null, size: 0, offset: 0, inseparable: [] };
  const columns = free.map((k) => ({
    high: Float64Array.from({ length: rows }, (_, i) =>
      rootWeights[i] === 0 ? 0 : rootWeights[i] * state.jacobian[k * rows + i],
    ),
  }));
  const local = leastSquares(columns, state.residuals);
  const spanned = local.dropped.map(({ column }) => free[column]);
  // A parameter that the others span, and those that span it, can't be told apart.
  const inseparable = free.filter(
    (k) =>
      spanned.includes(k) ||
      local.dropped.some(({ on }) =>
        on.some(({ column, coefficient }) => free[column] === k && coefficient !== 0),
      ),
  );
  const size = length(local.fitted);
  const rest = length(local.residuals);
  const df = counted - free.length;
  const offset = df > 0 && rest > 0 ? size / Math.sqrt(free.length) / (rest / Math.sqrt(df)) : null;
  return { state, step: spanned.length === 0 ? local.coefficients : null, size, offset, inseparable };
}
