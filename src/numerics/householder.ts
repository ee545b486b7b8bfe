import { addMultiple, dot, norm } from "./vector.ts";

/** A matrix stored flat, column by column: entry (i, j) stands at `j * rows + i`. */
export interface Matrix {
  readonly rows: number;
  readonly columns: number;
  readonly entries: Float64Array;
}

/** X·Π = Q·R for the columns kept, in the caller's order. */
export interface OrthogonalFactor {
  readonly rows: number;
  readonly rank: number;
  readonly kept: readonly number[];
  /** Columns that those kept before them span, with the multiples of the kept columns that make them up. */
  readonly spanned: readonly { readonly column: number; readonly multiples: Float64Array }[];
  /** Slot k (of `rows` entries): rows above k hold R, rows from k down the k-th reflector. */
  readonly slots: Float64Array;
  /** Diagonal of R; and for each reflector v the factor 2 / vᵀv. */
  readonly diagonal: Float64Array;
  readonly reflection: Float64Array;
  /** Largest norm of a column of R⁻¹ for columns of unit length; times √rank it bounds the condition number. */
  readonly inverseNorm: number;
}

/**
 * Householder QR with pivoting of the limited kind: a column that those before it span is set aside to the end, so that the caller's order decides which
 * of several inseparable columns stands for all.
 *
 * The threshold is relative, and reads so: with columns brought to unit length, let r be what is left of a column after those before it are taken out, and
 * v the multiples of the columns (its own, 1, included) that leave this rest. Rounding of the entries alone leaves about 1.1e-16·‖v‖. So a column is kept only
 * if r > tolerance·‖v‖. As r/‖v‖ is 1/‖R⁻¹eₖ‖, the test also bounds the smallest singular value within √rank (diagonals alone do not: Kahan 1966).
 * Source: Golub and Van Loan, Matrix Computations, 5.2; Higham, Accuracy and Stability of Numerical Algorithms, chapter 19.
 */
export function factorInOrder(matrix: Matrix, tolerance: number): OrthogonalFactor {
  const { rows, columns, entries } = matrix;
  const most = Math.min(rows, columns);
  // One slot more than can be kept: the column under examination.
  const slots = new Float64Array(rows * (most + 1));
  const diagonal = new Float64Array(most);
  const reflection = new Float64Array(most);
  const keptNorm = new Float64Array(most);
  const kept: number[] = [];
  const spanned: { column: number; multiples: Float64Array }[] = [];
  let inverseNorm = 0;
  for (let j = 0; j < columns; j++) {
    const rank = kept.length;
    const slot = rank * rows;
    slots.set(entries.subarray(j * rows, (j + 1) * rows), slot);
    const length = norm(slots, slot, rows);
    for (let k = 0; k < rank; k++) reflect(slots, k * rows + k, reflection[k], slots, slot + k, rows - k);
    const multiples = slots.slice(slot, slot + rank);
    solveUpper(slots, rows, diagonal, multiples);
    let size = length * length;
    for (let k = 0; k < rank; k++) size += (multiples[k] * keptNorm[k]) ** 2;
    const rest = rank < most ? norm(slots, slot + rank, rows - rank) : 0;
    if (!(rest > tolerance * Math.sqrt(size))) {
      spanned.push({ column: j, multiples });
      continue;
    }
    inverseNorm = Math.max(inverseNorm, Math.sqrt(size) / rest);
    keptNorm[rank] = length;
    kept.push(j);
    // The sign is chosen so that nothing cancels in v.
    const head = slots[slot + rank];
    diagonal[rank] = head > 0 ? -rest : rest;
    slots[slot + rank] = head - diagonal[rank];
    reflection[rank] = 1 / (rest * (rest + Math.abs(head)));
  }
  return { rows, rank: kept.length, kept, spanned, slots, diagonal, reflection, inverseNorm };
}

/** target −= factor·v·(vᵀtarget), in place. */
function reflect(
  v: Float64Array,
  vStart: number,
  factor: number,
  target: Float64Array,
  targetStart: number,
  length: number,
): void {
  addMultiple(target, targetStart, -factor * dot(v, vStart, target, targetStart, length), v, vStart, length);
}

/** vector := Qᵀ·vector, in place on the caller's scratch. */
export function applyTransposed(factor: OrthogonalFactor, vector: Float64Array): void {
  const { rows, rank, slots, reflection } = factor;
  for (let k = 0; k < rank; k++) reflect(slots, k * rows + k, reflection[k], vector, k, rows - k);
}

/** vector := Q·vector, in place on the caller's scratch. */
export function applyOrthogonal(factor: OrthogonalFactor, vector: Float64Array): void {
  const { rows, rank, slots, reflection } = factor;
  for (let k = rank - 1; k >= 0; k--) reflect(slots, k * rows + k, reflection[k], vector, k, rows - k);
}

/** vector := R⁻¹·vector on its first entries, in place on the caller's scratch. */
export function solveTriangular(factor: OrthogonalFactor, vector: Float64Array): void {
  solveUpper(factor.slots, factor.rows, factor.diagonal, vector.subarray(0, factor.rank));
}

function solveUpper(slots: Float64Array, rows: number, diagonal: Float64Array, vector: Float64Array): void {
  for (let k = vector.length - 1; k >= 0; k--) {
    vector[k] /= diagonal[k];
    addMultiple(vector, 0, -vector[k], slots, k * rows, k);
  }
}

/** vector := R⁻ᵀ·vector on its first entries, in place on the caller's scratch. */
export function solveTransposed(factor: OrthogonalFactor, vector: Float64Array): void {
  const { rows, rank, slots, diagonal } = factor;
  for (let k = 0; k < rank; k++) vector[k] = (vector[k] - dot(slots, k * rows, vector, 0, k)) / diagonal[k];
}

/** R⁻¹, upper triangular, rank × rank, column by column. */
export function triangularInverse(factor: OrthogonalFactor): Float64Array {
  const { rows, rank, slots, diagonal } = factor;
  const inverse = new Float64Array(rank * rank);
  for (let k = 0; k < rank; k++) {
    const column = inverse.subarray(k * rank, k * rank + k + 1);
    column[k] = 1;
    solveUpper(slots, rows, diagonal, column);
  }
  return inverse;
}
