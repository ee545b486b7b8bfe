import type { OrthogonalFactor } from "./householder.ts";
import type { PreciseVector } from "./precise-products.ts";
import { addExactly, divideExactly, multiplyExactly, negate } from "./double-double.ts";
import type { RefinedFactor } from "./refined-inverse.ts";

/** (XᵀWX)⁻¹ in the caller's units from the refined R⁻¹: each diagonal entry is a sum of squares, so nothing cancels in a variance. Row by row. */
export function inverseCross(
  inverse: Float64Array,
  factor: OrthogonalFactor,
  columnScale: Float64Array,
): Float64Array {
  const { rank, kept } = factor;
  const cross = new Float64Array(rank * rank);
  for (let i = 0; i < rank; i++)
    for (let j = i; j < rank; j++) {
      let sum = 0;
      for (let k = j; k < rank; k++) sum += inverse[k * rank + i] * inverse[k * rank + j];
      // In two steps: scales of extreme columns could overflow when multiplied first.
      cross[i * rank + j] = sum * columnScale[kept[i]] * columnScale[kept[j]];
      cross[j * rank + i] = cross[i * rank + j];
    }
  return cross;
}

/** Squared lengths of the rows of Q, set back into the caller's row order. */
export function leverageOf(
  orthonormal: Float64Array,
  rank: number,
  row: Int32Array,
  rows: number,
): Float64Array {
  const leverage = new Float64Array(rows);
  for (let k = 0; k < rank; k++)
    for (let i = 0; i < row.length; i++) leverage[row[i]] += orthonormal[k * row.length + i] ** 2;
  for (let i = 0; i < rows; i++) leverage[i] = Math.min(1, leverage[i]);
  return leverage;
}

/**
 * (Qᵀy)ₖ² by way of the refined coefficients: Qᵀy = R·b = Lᵀ·(S⁻¹·b), each line of which holds b's k-th and later entries only. So a large mean in front takes no
 * digits from the small effects behind it, and S⁻¹·b is solved in double-double, so a bad condition takes none either.
 */
export function sequentialSums(
  refined: RefinedFactor,
  coefficients: PreciseVector,
  responseScale: number,
): Float64Array {
  const rank = coefficients.high.length;
  const { approximateInverse, correction } = refined;
  const rest = Array.from(coefficients.high, (high, k) => ({ high, low: coefficients.low[k] }));
  const inBasis = new Float64Array(rank);
  for (let k = rank - 1; k >= 0; k--) {
    const solved = divideExactly(rest[k], { high: approximateInverse[k * rank + k], low: 0 });
    inBasis[k] = solved.high;
    for (let j = 0; j < k; j++)
      rest[j] = addExactly(
        rest[j],
        negate(multiplyExactly(solved, { high: approximateInverse[k * rank + j], low: 0 })),
      );
  }
  return inBasis.map((_, k) => {
    let along = 0;
    for (let j = k; j < rank; j++) along += correction[j * rank + k] * inBasis[j];
    return (along / responseScale) ** 2;
  });
}
