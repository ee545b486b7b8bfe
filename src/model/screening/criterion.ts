/**
 * Akaike's criterion corrected for few runs: n ln(residual sum of squares / n) + 2 k n/(n − k − 1), k the coefficients and the scatter (Hurvich and Tsai 1989,
 * Biometrika 76, 297–307). Infinite where too few runs are left.
 */
export function criterion(
  residualSumOfSquares: number,
  given: { readonly terms: number; readonly rows: number; readonly base: number; readonly total: number },
): number {
  const { terms, rows, base, total } = given;
  const coefficients = base + terms + 1;
  if (rows - coefficients - 1 <= 0) return Infinity;
  // Runs met exactly would win by an infinite margin; what rounding leaves is taken for the least that a gauge can show.
  const left = Math.max(residualSumOfSquares, 1e-12 * total);
  return rows * Math.log(left / rows) + (2 * coefficients * rows) / (rows - coefficients - 1);
}
