/** A small square matrix by LU with row pivoting, in place. Returns its determinant; 0 where it is singular. */
export function factorSmall(matrix: Float64Array, order: Int32Array, size: number): number {
  let determinant = 1;
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1) {
      if (Math.abs(matrix[row * size + column]) > Math.abs(matrix[pivot * size + column])) pivot = row;
    }
    order[column] = pivot;
    if (pivot !== column) {
      determinant = -determinant;
      for (let k = 0; k < size; k += 1) {
        const kept = matrix[column * size + k];
        matrix[column * size + k] = matrix[pivot * size + k];
        matrix[pivot * size + k] = kept;
      }
    }
    const lead = matrix[column * size + column];
    if (lead === 0) return 0;
    determinant *= lead;
    for (let row = column + 1; row < size; row += 1) {
      const share = matrix[row * size + column] / lead;
      matrix[row * size + column] = share;
      if (share === 0) continue;
      for (let k = column + 1; k < size; k += 1) matrix[row * size + k] -= share * matrix[column * size + k];
    }
  }
  return determinant;
}

/** Solves with a factored matrix for `width` right sides at once (row-major), in place. */
export function solveSmall(
  factored: Float64Array,
  order: Int32Array,
  size: number,
  sides: Float64Array,
  width: number,
): void {
  for (let row = 0; row < size; row += 1) {
    const pivot = order[row];
    if (pivot === row) continue;
    for (let k = 0; k < width; k += 1) {
      const kept = sides[row * width + k];
      sides[row * width + k] = sides[pivot * width + k];
      sides[pivot * width + k] = kept;
    }
  }
  for (let row = 1; row < size; row += 1) {
    for (let other = 0; other < row; other += 1) {
      const share = factored[row * size + other];
      if (share === 0) continue;
      for (let k = 0; k < width; k += 1) sides[row * width + k] -= share * sides[other * width + k];
    }
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    for (let other = row + 1; other < size; other += 1) {
      const share = factored[row * size + other];
      if (share === 0) continue;
      for (let k = 0; k < width; k += 1) sides[row * width + k] -= share * sides[other * width + k];
    }
    const lead = factored[row * size + row];
    for (let k = 0; k < width; k += 1) sides[row * width + k] /= lead;
  }
}
