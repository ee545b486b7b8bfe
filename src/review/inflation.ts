import { leastSquares } from "../numerics/index.ts";

/**
 * By how many times other columns widen the interval of one column's coefficient: the square root of the variance inflation 1/(1 − R²),
 * R² being that of the column on the others and a constant. 1 where they are at right angles, infinite where the others span it.
 * Source: Montgomery, Peck and Vining, Introduction to Linear Regression Analysis, section 9.4 (from memory; follows from the partitioned inverse).
 * @example intervalInflation(Float64Array.of(1, 2, 3, 4), [Float64Array.of(1, -1, -1, 1)]) is 1
 */
export function intervalInflation(column: Float64Array, others: readonly Float64Array[]): number {
  const constant = new Float64Array(column.length).fill(1);
  const mean = column.reduce((sum, value) => sum + value, 0) / column.length;
  const total = column.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  if (total === 0) return Infinity;
  const { residualSumOfSquares } = leastSquares(
    [constant, ...others].map((high) => ({ high })),
    column,
  );
  const free = residualSumOfSquares / total;
  // Below about 1e-12 what is left is rounding, not freedom.
  return free < 1e-12 ? Infinity : 1 / Math.sqrt(free);
}
