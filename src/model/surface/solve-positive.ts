/**
 * S⁻¹ v for a covariance S, by Cholesky's factors; a direction without scatter is given 1e-14 of the largest, so that what
 * moves along it counts as far from chance.
 */
export function solvePositive(
  matrix: readonly (readonly number[])[],
  vector: readonly number[],
): readonly number[] {
  const n = vector.length;
  const floor = 1e-14 * Math.max(...matrix.map((row, i) => row[i]));
  const lower: number[][] = [];
  for (let i = 0; i < n; i++) {
    lower.push(new Array<number>(n).fill(0));
    for (let j = 0; j <= i; j++) {
      let left = matrix[i][j];
      for (let k = 0; k < j; k++) left -= lower[i][k] * lower[j][k];
      lower[i][j] = i === j ? Math.sqrt(Math.max(left, floor)) : left / lower[j][j];
    }
  }
  const solved = [...vector];
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) solved[i] -= lower[i][k] * solved[k];
    solved[i] /= lower[i][i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) solved[i] -= lower[k][i] * solved[k];
    solved[i] /= lower[i][i];
  }
  return solved;
}
