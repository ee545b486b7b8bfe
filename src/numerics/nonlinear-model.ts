import { numericsError } from "./error.ts";

/** A curve or surface as the solver sees it: values and derivatives for every row at once. */
export interface NonlinearModel {
  readonly rows: number;
  readonly parameters: number;
  /**
   * Writes the value of every row into `value`, and the derivative of row i with respect to parameter k into `jacobian[k * rows + i]`. What can't be computed
   * is written as it comes, NaN or infinite; the solver keeps away from it.
   */
  readonly evaluate: (parameters: Float64Array, value: Float64Array, jacobian: Float64Array) => void;
}

/** A fit to make: what to bring close to what, and which parameters are free. */
export interface NonlinearProblem {
  readonly model: NonlinearModel;
  readonly response: Float64Array;
  /** Square roots of the weights; all 1 where none were given. */
  readonly rootWeights: Float64Array;
  /** Free parameters in which the model is linear; they are solved for and not searched. */
  readonly linear: readonly number[];
  /** The other free parameters. */
  readonly searched: readonly number[];
  /** Rows of weight above 0. */
  readonly counted: number;
}

/** Checks at the door of the solver. */
export function nonlinearProblem(
  model: NonlinearModel,
  response: Float64Array,
  start: Float64Array,
  options: {
    readonly weights?: Float64Array;
    readonly linear: readonly number[];
    readonly fixed: readonly number[];
  },
): NonlinearProblem {
  const { weights, linear, fixed } = options;
  const { rows, parameters } = model;
  if (response.length !== rows || (weights !== undefined && weights.length !== rows))
    throw numericsError(`${response.length} responses for ${rows} rows`, "one a row, weights too");
  if (start.length !== parameters)
    throw numericsError(`${start.length} starting values for ${parameters} parameters`, "one a parameter");
  for (const value of response)
    if (!Number.isFinite(value)) throw numericsError(`a response of ${value}`, "finite numbers");
  const rootWeights = new Float64Array(rows).fill(1);
  let counted = rows;
  if (weights !== undefined) {
    counted = 0;
    for (let i = 0; i < rows; i++) {
      if (!(weights[i] >= 0 && Number.isFinite(weights[i])))
        throw numericsError(`a weight of ${weights[i]}`, "finite numbers, zero or more");
      rootWeights[i] = Math.sqrt(weights[i]);
      if (weights[i] > 0) counted++;
    }
  }
  const searched: number[] = [];
  const solvedFor: number[] = [];
  for (let k = 0; k < parameters; k++) {
    if (fixed.includes(k)) continue;
    if (linear.includes(k)) solvedFor.push(k);
    else searched.push(k);
    if (!Number.isFinite(start[k]) && !linear.includes(k))
      throw numericsError(`a starting value of ${start[k]}`, "finite numbers");
  }
  return { model, response, rootWeights, linear: solvedFor, searched, counted };
}
