import { twoProduct, twoSum, type DoubleDouble } from "./double-double.ts";
import { numericsError } from "./error.ts";

/**
 * The sum of the values, rounded once: what endless precision would give. Order does not matter.
 * Refused: a value that is not finite, or sums on the way that pass 1.8e308.
 * Source: Shewchuk 1997, Discrete and Computational Geometry 18, 305–363 (growing an expansion of parts that do not overlap).
 * Example: `sumExactly([1e16, 1, -1e16])` is 1, where plain addition gives 0.
 */
export function sumExactly(values: ArrayLike<number>): number {
  return roundedOnce(expansionOf(values.length, (i, add) => add(values[i])));
}

/**
 * The sum of the products a·b, rounded once; for entries between 1e-140 and 1e150 in size, and 0.
 * Refused: lengths that differ, values that are not finite.
 */
export function dotExactly(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length !== b.length) throw numericsError(`${a.length} and ${b.length} entries`, "as many of both");
  const parts = expansionOf(a.length, (i, add) => {
    const product = twoProduct(a[i], b[i]);
    add(product.high);
    add(product.low);
  });
  return roundedOnce(parts);
}

/** The sum as a double-double, for a mean that is then taken off its own values. */
export function sumToDoubleDouble(values: ArrayLike<number>): DoubleDouble {
  const parts = expansionOf(values.length, (i, add) => add(values[i]));
  const high = roundedOnce(parts);
  return { high, low: roundedOnce([...parts, -high].reduce<number[]>(grown, [])) };
}

function expansionOf(length: number, addTerm: (i: number, add: (value: number) => void) => void): number[] {
  let parts: number[] = [];
  const add = (value: number): void => {
    parts = grown(parts, value);
  };
  for (let i = 0; i < length; i++) addTerm(i, add);
  if (!parts.every(Number.isFinite))
    throw numericsError(
      "a sum over values or partial sums that are not finite",
      "finite numbers below 1e308",
    );
  return parts;
}

/** Adds a value to parts ordered by growing size; reuses and returns the same array. */
function grown(parts: number[], value: number): number[] {
  let carried = value;
  let kept = 0;
  for (const part of parts) {
    const { high, low } = twoSum(carried, part);
    if (low !== 0) parts[kept++] = low;
    carried = high;
  }
  parts[kept++] = carried;
  parts.length = kept;
  return parts;
}

/** Adds the parts from the largest down; where that stops at a tie, the next part decides it. */
function roundedOnce(parts: readonly number[]): number {
  let i = parts.length - 1;
  if (i < 0) return 0;
  let sum = parts[i--];
  let lost = 0;
  while (i >= 0 && lost === 0) {
    const step = twoSum(sum, parts[i--]);
    sum = step.high;
    lost = step.low;
  }
  if (i >= 0 && lost !== 0 && Math.sign(lost) === Math.sign(parts[i])) {
    const doubled = 2 * lost;
    const next = sum + doubled;
    if (next - sum === doubled) return next;
  }
  return sum;
}
