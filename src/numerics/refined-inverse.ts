import { splitter } from "./double-double.ts";
import type { OrthogonalFactor } from "./householder.ts";
import { triangularInverse } from "./householder.ts";
import type { PreciseMatrix } from "./precise-products.ts";
import { addCombination, addMultiple, dot } from "./vector.ts";

/** What a triangular factor is worth once its own rounding has been measured and taken out. */
export interface RefinedFactor {
  /** R⁻¹ of the exact factorisation, upper triangular, rank × rank, column by column. */
  readonly inverse: Float64Array;
  /** The orthonormal columns of Q, rows × rank, column by column. */
  readonly orthonormal: Float64Array;
  /** The approximate R⁻¹ that was refined, and the upper triangle that leads from it to the exact one. */
  readonly approximateInverse: Float64Array;
  readonly correction: Float64Array;
}

/** Below this bound on the condition number the plain factor already holds 14 digits: its variances were seen to err by less than 0.2·condition·2.2e-16. */
const wellConditioned = 256;

/**
 * Refined R⁻¹ and Q. The rounded R⁻¹, call it S, is taken as exact: P = X·S, formed in double-double, has columns that are nearly orthonormal, and what is
 * missing shows in PᵀP = I + E with E of the size condition · 1e-16. With PᵀP = L·Lᵀ, the exact R⁻¹ is S·L⁻ᵀ and the exact Q is P·L⁻ᵀ. As PᵀP is next to the
 * identity, nothing is squared away here (X's own cross products are never formed). Error of (XᵀX)⁻¹ about 1e-15 while condition · 1e-16 is small against 1.
 * Source: the argument is that of Cholesky QR with a preconditioner: Fukaya et al. 2020, SIAM J. Sci. Comput. 42, A477–A503.
 */
export function refinedFactor(matrix: PreciseMatrix, factor: OrthogonalFactor): RefinedFactor {
  const { rows, rank } = factor;
  const approximateInverse = triangularInverse(factor);
  const precise = factor.inverseNorm * Math.sqrt(rank) > wellConditioned;
  const orthonormal = precise
    ? preciseColumns(matrix, factor, approximateInverse)
    : plainColumns(matrix, factor, approximateInverse);
  const correction = precise ? crossFactor(orthonormal, rows, rank) : identity(rank);
  const inverse = approximateInverse.slice();
  if (precise) {
    divideByTransposed(inverse, rank, rank, correction);
    divideByTransposed(orthonormal, rows, rank, correction);
  }
  return { inverse, orthonormal, approximateInverse, correction };
}

function identity(size: number): Float64Array {
  const entries = new Float64Array(size * size);
  for (let k = 0; k < size; k++) entries[k * size + k] = 1;
  return entries;
}

function plainColumns(matrix: PreciseMatrix, factor: OrthogonalFactor, inverse: Float64Array): Float64Array {
  const { rows, rank, kept } = factor;
  const product = new Float64Array(rows * rank);
  const starts = kept.map((column) => column * rows);
  for (let k = 0; k < rank; k++) {
    const factors = inverse.subarray(k * rank, k * rank + k + 1);
    addCombination(product, k * rows, factors, matrix.entries, starts, k + 1, rows);
  }
  return product;
}

/** X·S with each entry summed in double-double and rounded once. */
function preciseColumns(
  matrix: PreciseMatrix,
  factor: OrthogonalFactor,
  inverse: Float64Array,
): Float64Array {
  const { rows, rank, kept } = factor;
  const { entries, low } = matrix;
  const product = new Float64Array(rows * rank);
  const lost = new Float64Array(rows);
  for (let k = 0; k < rank; k++) {
    const to = k * rows;
    lost.fill(0);
    for (let j = 0; j <= k; j++) {
      const from = kept[j] * rows;
      const x = inverse[k * rank + j];
      const t = x * splitter;
      const x1 = t - (t - x);
      const x2 = x - x1;
      for (let i = 0; i < rows; i++) {
        const a = entries[from + i];
        const term = a * x;
        const at = a * splitter;
        const a1 = at - (at - a);
        const a2 = a - a1;
        const error = a1 * x1 - term + a1 * x2 + a2 * x1 + a2 * x2;
        const before = product[to + i];
        const after = before + term;
        const part = after - before;
        product[to + i] = after;
        lost[i] += before - (after - part) + (term - part) + error;
      }
      if (low !== undefined) addMultiple(lost, 0, x, low, from, rows);
    }
    addMultiple(product, to, 1, lost, 0, rows);
  }
  return product;
}

/** L of PᵀP = L·Lᵀ, returned as the upper triangle Lᵀ, column by column. */
function crossFactor(columns: Float64Array, rows: number, rank: number): Float64Array {
  const upper = new Float64Array(rank * rank);
  for (let k = 0; k < rank; k++) {
    for (let j = 0; j <= k; j++) {
      const rest = dot(columns, j * rows, columns, k * rows, rows) - dot(upper, j * rank, upper, k * rank, j);
      upper[k * rank + j] = j < k ? rest / upper[j * rank + j] : Math.sqrt(rest);
    }
  }
  return upper;
}

/** columns := columns·U⁻¹ for an upper triangle U, in place on this file's own arrays. */
function divideByTransposed(columns: Float64Array, rows: number, rank: number, upper: Float64Array): void {
  for (let k = 0; k < rank; k++) {
    for (let j = 0; j < k; j++) addMultiple(columns, k * rows, -upper[k * rank + j], columns, j * rows, rows);
    const inverse = 1 / upper[k * rank + k];
    for (let i = 0; i < rows; i++) columns[k * rows + i] *= inverse;
  }
}
