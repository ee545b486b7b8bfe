import { splitter } from "./double-double.ts";
import type { Matrix } from "./householder.ts";

/** A matrix whose entries may carry a low part, stored like `entries`; absent where every entry is an exact double. */
export interface PreciseMatrix extends Matrix {
  readonly low: Float64Array | undefined;
}

/** A vector of double-doubles, as two arrays that stand for one. */
export interface PreciseVector {
  readonly high: Float64Array;
  readonly low: Float64Array;
}

export function preciseVector(length: number): PreciseVector {
  return { high: new Float64Array(length), low: new Float64Array(length) };
}

/**
 * target −= column × x in twice the working precision, in place on the caller's scratch. The high parts are summed by two-sum; what rounding loses,
 * and the products of low parts, gather in `target.low` (the second-order dot product of Ogita, Rump and Oishi 2005, SIAM J. Sci. Comput. 26, 1955–1988).
 */
export function subtractColumn(
  target: PreciseVector,
  matrix: PreciseMatrix,
  column: number,
  xHigh: number,
  xLow: number,
): void {
  const { rows, entries, low } = matrix;
  const { high: sums, low: lost } = target;
  const start = column * rows;
  const t = xHigh * splitter;
  const x1 = t - (t - xHigh);
  const x2 = xHigh - x1;
  for (let i = 0; i < rows; i++) {
    const a = entries[start + i];
    const product = a * xHigh;
    const at = a * splitter;
    const a1 = at - (at - a);
    const a2 = a - a1;
    const error = a1 * x1 - product + a1 * x2 + a2 * x1 + a2 * x2 + a * xLow;
    const before = sums[i];
    const after = before - product;
    const part = after - before;
    sums[i] = after;
    lost[i] += before - (after - part) - (product + part) - error;
  }
  if (low !== undefined) for (let i = 0; i < rows; i++) lost[i] -= low[start + i] * xHigh;
}

/** columnᵀ·vector in twice the working precision, rounded to a double. */
export function preciseDot(matrix: PreciseMatrix, column: number, vector: PreciseVector): number {
  const { rows, entries, low } = matrix;
  const { high, low: vectorLow } = vector;
  const start = column * rows;
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < rows; i++) {
    const a = entries[start + i];
    const b = high[i];
    const product = a * b;
    const at = a * splitter;
    const a1 = at - (at - a);
    const a2 = a - a1;
    const bt = b * splitter;
    const b1 = bt - (bt - b);
    const b2 = b - b1;
    const error = a1 * b1 - product + a1 * b2 + a2 * b1 + a2 * b2 + a * vectorLow[i];
    const after = sum + product;
    const part = after - sum;
    lost += sum - (after - part) + (product - part) + error;
    sum = after;
  }
  if (low !== undefined) for (let i = 0; i < rows; i++) lost += low[start + i] * high[i];
  return sum + lost;
}

/** vector += correction (doubles), renormalised so that `high` is the rounded sum; in place on the caller's scratch. */
export function addCorrection(vector: PreciseVector, correction: Float64Array): void {
  const { high, low } = vector;
  for (let i = 0; i < high.length; i++) {
    const before = high[i];
    const sum = before + correction[i];
    const part = sum - before;
    const lost = before - (sum - part) + (correction[i] - part) + low[i];
    const after = sum + lost;
    low[i] = lost - (after - sum);
    high[i] = after;
  }
}
