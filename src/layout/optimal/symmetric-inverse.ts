/** Relative to a pivot's own diagonal: below it the column is spanned by earlier ones. */
const SINGULAR = 1e-10;

/** Lower factor in place; the logarithm of the determinant, or undefined where a pivot vanishes. */
export function cholesky(matrix: Float64Array, size: number): number | undefined {
  let logDeterminant = 0;
  for (let i = 0; i < size; i += 1) {
    const row = i * size;
    const diagonal = matrix[row + i];
    for (let j = 0; j <= i; j += 1) {
      const other = j * size;
      let sum = matrix[row + j];
      for (let k = 0; k < j; k += 1) sum -= matrix[row + k] * matrix[other + k];
      if (i > j) matrix[row + j] = sum / matrix[other + j];
      else {
        if (!(sum > SINGULAR * diagonal)) return undefined;
        matrix[row + i] = Math.sqrt(sum);
        logDeterminant += Math.log(sum);
      }
    }
  }
  return logDeterminant;
}

/** The inverse of LL′ into `inverse`; `scratch` holds as many numbers and is overwritten. */
export function inverseFromCholesky(
  lower: Float64Array,
  size: number,
  scratch: Float64Array,
  inverse: Float64Array,
): void {
  // Row by row of the transpose of L⁻¹, so that both loops run along rows.
  for (let column = 0; column < size; column += 1) {
    const at = column * size;
    for (let row = 0; row < column; row += 1) scratch[at + row] = 0;
    scratch[at + column] = 1 / lower[at + column];
    for (let row = column + 1; row < size; row += 1) {
      let sum = 0;
      for (let k = column; k < row; k += 1) sum += lower[row * size + k] * scratch[at + k];
      scratch[at + row] = -sum / lower[row * size + row];
    }
  }
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = i; k < size; k += 1) sum += scratch[i * size + k] * scratch[j * size + k];
      inverse[i * size + j] = sum;
      inverse[j * size + i] = sum;
    }
  }
}

/** one × other, into `out`. */
export function multiplyMatrices(
  one: Float64Array,
  other: Float64Array,
  out: Float64Array,
  size: number,
): void {
  out.fill(0);
  for (let i = 0; i < size; i += 1) {
    for (let k = 0; k < size; k += 1) {
      const value = one[i * size + k];
      if (value === 0) continue;
      for (let j = 0; j < size; j += 1) out[i * size + j] += value * other[k * size + j];
    }
  }
}

/** Matrix × the part of `vectors` from `at`, into `out` from `outAt`. */
export function multiplyVector(
  matrix: Float64Array,
  vectors: Float64Array,
  at: number,
  out: Float64Array,
  outAt: number,
  size: number,
): void {
  for (let i = 0; i < size; i += 1) {
    let sum = 0;
    const base = i * size;
    for (let j = 0; j < size; j += 1) sum += matrix[base + j] * vectors[at + j];
    out[outAt + i] = sum;
  }
}

export function dot(one: Float64Array, other: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i += 1) sum += one[i] * other[i];
  return sum;
}
