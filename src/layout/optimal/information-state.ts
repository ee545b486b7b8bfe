import { fillRow, type SearchModel } from "./search-model.ts";

/** The inverse information of a design while it is searched, kept by rank updates. */
export interface InformationState {
  /** (X′X + prior)⁻¹, row-major. */
  readonly inverse: Float64Array;
  /** Inverse × moments × inverse: what the I and A criteria need; empty for D. */
  readonly weighted: Float64Array;
  logDeterminant: number;
  /** Trace of moments × inverse. */
  trace: number;
}

export type Criterion = "D" | "I" | "A";

/** Diagonal moments of A: the average variance of the coefficients of the model, blocks left out. */
export function criterionMoments(model: SearchModel, criterion: Criterion): Float64Array | undefined {
  if (criterion === "D") return undefined;
  if (criterion === "I") return model.moments;
  const size = model.columnCount;
  const diagonal = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    if (column === 0 || column >= model.firstTerm) diagonal[column * size + column] = 1;
  }
  return diagonal;
}

/**
 * Computes the state of a design afresh (which also clears the rounding that updates gather). `ridge` is added to the whole
 * diagonal, so that a start that can't tell all terms apart has a way out. Returns undefined where the information is
 * singular all the same.
 */
export function freshState(
  model: SearchModel,
  points: Int32Array,
  blockOf: Int32Array,
  moments: Float64Array | undefined,
  ridge: number,
): InformationState | undefined {
  const size = model.columnCount;
  const runs = blockOf.length;
  const cross = new Float64Array(size * size);
  const row = new Float64Array(size);
  for (let run = 0; run < runs; run += 1) {
    fillRow(model, points, run * model.factors.length, blockOf[run] ?? 0, row);
    for (let i = 0; i < size; i += 1) {
      const value = row[i];
      if (value === 0) continue;
      for (let j = 0; j <= i; j += 1) cross[i * size + j] = cross[i * size + j] + value * row[j];
    }
  }
  for (let i = 0; i < size; i += 1) cross[i * size + i] = cross[i * size + i] + model.prior[i] + ridge;
  const logDeterminant = cholesky(cross, size);
  if (logDeterminant === undefined) return undefined;
  const inverse = inverseFromCholesky(cross, size);
  const weighted = moments ? sandwiched(inverse, moments, size) : new Float64Array(0);
  return { inverse, weighted, logDeterminant, trace: moments ? traceOf(moments, inverse, size) : 0 };
}

/** Relative to a pivot's own diagonal: below it the column is spanned by earlier ones. */
const SINGULAR = 1e-10;

/** Lower factor in place; the logarithm of the determinant, or undefined where a pivot vanishes. */
export function cholesky(matrix: Float64Array, size: number): number | undefined {
  let logDeterminant = 0;
  for (let i = 0; i < size; i += 1) {
    const diagonal = matrix[i * size + i];
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < j; k += 1) sum -= matrix[i * size + k] * matrix[j * size + k];
      if (i > j) matrix[i * size + j] = sum / matrix[j * size + j];
      else {
        if (!(sum > SINGULAR * diagonal)) return undefined;
        matrix[i * size + i] = Math.sqrt(sum);
        logDeterminant += Math.log(sum);
      }
    }
  }
  return logDeterminant;
}

function inverseFromCholesky(lower: Float64Array, size: number): Float64Array {
  const inverseLower = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    inverseLower[column * size + column] = 1 / lower[column * size + column];
    for (let row = column + 1; row < size; row += 1) {
      let sum = 0;
      for (let k = column; k < row; k += 1) {
        sum += lower[row * size + k] * inverseLower[k * size + column];
      }
      inverseLower[row * size + column] = -sum / lower[row * size + row];
    }
  }
  const inverse = new Float64Array(size * size);
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = i; k < size; k += 1) {
        sum += inverseLower[k * size + i] * inverseLower[k * size + j];
      }
      inverse[i * size + j] = sum;
      inverse[j * size + i] = sum;
    }
  }
  return inverse;
}

function sandwiched(inverse: Float64Array, moments: Float64Array, size: number): Float64Array {
  return multiplied(multiplied(inverse, moments, size), inverse, size);
}

function multiplied(one: Float64Array, other: Float64Array, size: number): Float64Array {
  const product = new Float64Array(size * size);
  for (let i = 0; i < size; i += 1) {
    for (let k = 0; k < size; k += 1) {
      const value = one[i * size + k];
      if (value === 0) continue;
      for (let j = 0; j < size; j += 1) {
        product[i * size + j] = product[i * size + j] + value * other[k * size + j];
      }
    }
  }
  return product;
}

function traceOf(moments: Float64Array, inverse: Float64Array, size: number): number {
  let sum = 0;
  for (let index = 0; index < size * size; index += 1) sum += moments[index] * inverse[index];
  return sum;
}
