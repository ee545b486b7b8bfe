import { applyTransposed, factorInOrder, solveTriangular } from "./householder.ts";
import type { Matrix } from "./householder.ts";
import type { NonlinearProblem } from "./nonlinear-model.ts";
import { dot, largest, scaleToOne } from "./vector.ts";

/** Where a search stands: parameters with the linear ones solved for, and the local problem of the others once those are projected out. */
export interface NonlinearState {
  readonly parameters: Float64Array;
  readonly fitted: Float64Array;
  /** Weighted: √weight × (response − fitted). */
  readonly residuals: Float64Array;
  readonly residualSumOfSquares: number;
  /** rows × parameters, unweighted, column by column. */
  readonly jacobian: Float64Array;
  /** Upper triangle of the projected derivatives, column by column, `moving.length` square. */
  readonly triangle: Float64Array;
  /** Qᵀ·residuals in the same directions. */
  readonly aimed: Float64Array;
  /** Parameters that the triangle's columns stand for: those searched whose derivatives the others don't span. */
  readonly moving: readonly number[];
  /** Free parameters whose derivatives vanish, or are spanned by those of the others, here. */
  readonly spanned: readonly number[];
}

/** Relative threshold below which a derivative counts as spanned while searching. */
const spannedBelow = 1e-13;

/**
 * The state at given parameters; null where a value or a derivative that counts is not finite.
 *
 * The linear parameters are replaced by the best ones for the others, and their directions are projected out of the derivatives of the others: variable
 * projection with Kaufman's Jacobian, which has the exact gradient and costs one factorisation. With no linear parameters it is plain Gauss–Newton.
 * Source: Golub and Pereyra 1973, SIAM J. Numer. Anal. 10, 413–432; Kaufman 1975, BIT 15, 49–57.
 */
export function stateAt(problem: NonlinearProblem, at: Float64Array): NonlinearState | null {
  const { model, response, rootWeights, linear, searched } = problem;
  const { rows } = model;
  const parameters = Float64Array.from(at);
  const fitted = new Float64Array(rows);
  const jacobian = new Float64Array(rows * model.parameters);
  if (linear.length > 0) {
    for (const k of linear) parameters[k] = 0;
    model.evaluate(parameters, fitted, jacobian);
    if (!solveLinear(problem, fitted, jacobian, parameters)) return null;
  }
  model.evaluate(parameters, fitted, jacobian);
  const residuals = new Float64Array(rows);
  for (let i = 0; i < rows; i++)
    residuals[i] = rootWeights[i] === 0 ? 0 : rootWeights[i] * (response[i] - fitted[i]);
  const residualSumOfSquares = dot(residuals, 0, residuals, 0, rows);
  if (!Number.isFinite(residualSumOfSquares)) return null;
  const free = [...linear, ...searched];
  const scaled = scaledColumns(problem, jacobian, free);
  if (scaled === null) return null;
  const factor = factorInOrder(scaled.matrix, spannedBelow);
  const rotated = Float64Array.from(residuals);
  applyTransposed(factor, rotated);
  const before = factor.kept.filter((column) => column < linear.length).length;
  const moving = factor.kept.slice(before).map((column) => free[column]);
  const size = moving.length;
  const triangle = new Float64Array(size * size);
  const aimed = rotated.slice(before, before + size);
  for (let k = 0; k < size; k++) {
    const slot = (before + k) * rows;
    const scale = scaled.scale[factor.kept[before + k]];
    for (let j = 0; j < k; j++) triangle[k * size + j] = factor.slots[slot + before + j] / scale;
    triangle[k * size + k] = factor.diagonal[before + k] / scale;
  }
  const spanned = factor.spanned.map(({ column }) => free[column]);
  return { parameters, fitted, residuals, residualSumOfSquares, jacobian, triangle, aimed, moving, spanned };
}

/** Writes the best linear parameters for the others in place; false where something is not finite. */
function solveLinear(
  { model, response, rootWeights, linear }: NonlinearProblem,
  without: Float64Array,
  jacobian: Float64Array,
  parameters: Float64Array,
): boolean {
  const { rows } = model;
  const scaled = scaledColumns({ model, rootWeights }, jacobian, linear);
  if (scaled === null) return false;
  const rest = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    rest[i] = rootWeights[i] === 0 ? 0 : rootWeights[i] * (response[i] - without[i]);
    if (!Number.isFinite(rest[i])) return false;
  }
  const factor = factorInOrder(scaled.matrix, spannedBelow);
  applyTransposed(factor, rest);
  solveTriangular(factor, rest);
  factor.kept.forEach((column, k) => (parameters[linear[column]] = rest[k] * scaled.scale[column]));
  return parameters.every(Number.isFinite);
}

/** Weighted columns, each brought near 1 by a power of two so that no square overflows; null where an entry that counts is not finite. */
function scaledColumns(
  { model: { rows }, rootWeights }: Pick<NonlinearProblem, "model" | "rootWeights">,
  jacobian: Float64Array,
  columns: readonly number[],
): { readonly matrix: Matrix; readonly scale: Float64Array } | null {
  const entries = new Float64Array(rows * columns.length);
  const scale = new Float64Array(columns.length);
  for (let k = 0; k < columns.length; k++) {
    const from = columns[k] * rows;
    const column = entries.subarray(k * rows, (k + 1) * rows);
    for (let i = 0; i < rows; i++) {
      column[i] = rootWeights[i] === 0 ? 0 : rootWeights[i] * jacobian[from + i];
      if (!Number.isFinite(column[i])) return null;
    }
    scale[k] = scaleToOne(largest(column));
    for (let i = 0; i < rows; i++) column[i] *= scale[k];
  }
  return { matrix: { rows, columns: columns.length, entries }, scale };
}
