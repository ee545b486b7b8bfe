/** Lower Cholesky factor of a small symmetric matrix, row by row; null where it is not positive definite beyond rounding. */
export function choleskyFactor(matrix: Float64Array, size: number, tolerance = 1e-13): Float64Array | null {
  const factor = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = matrix[i * size + j];
      for (let k = 0; k < j; k++) rest -= factor[i * size + k] * factor[j * size + k];
      if (i !== j) factor[i * size + j] = rest / factor[j * size + j];
      else {
        // Relative to the entry itself, so that the units of the variances make no difference.
        if (!(rest > tolerance * matrix[i * size + i])) return null;
        factor[i * size + i] = Math.sqrt(rest);
      }
    }
  }
  return factor;
}

/** Solves L·Lᵀ·x = right. */
export function choleskySolve(factor: Float64Array, size: number, right: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(right);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) x[i] -= factor[i * size + k] * x[k];
    x[i] /= factor[i * size + i];
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) x[i] -= factor[k * size + i] * x[k];
    x[i] /= factor[i * size + i];
  }
  return x;
}

/** Inverse of L·Lᵀ, row by row. */
export function choleskyInverse(factor: Float64Array, size: number): Float64Array {
  const inverse = new Float64Array(size * size);
  for (let j = 0; j < size; j++) {
    const unit = new Float64Array(size);
    unit[j] = 1;
    const column = choleskySolve(factor, size, unit);
    for (let i = 0; i < size; i++) inverse[i * size + j] = column[i];
  }
  return inverse;
}
