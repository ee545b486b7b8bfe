import { divideExactly, type DoubleDouble } from "./double-double.ts";
import { numericsError } from "./error.ts";
import { dotExactly, sumExactly, sumToDoubleDouble } from "./exact-sum.ts";

/** The arithmetic mean, rounded once. Refused: no values. Example: `mean([1, 2, 6])` is 3. */
export function mean(values: ArrayLike<number>): number {
  return preciseMean(values).high;
}

/**
 * Σ (value − mean)², with the mean held in double-double: values that share many leading digits keep the others.
 * Relative accuracy about 1e-16 · √count, however large the mean is.
 * Source: Chan, Golub and LeVeque 1983, The American Statistician 37, 242–247 (the corrected two-pass sum).
 */
export function sumOfSquaredDeviations(values: ArrayLike<number>): number {
  const deviations = deviationsOf(values);
  const left = sumExactly(deviations);
  return Math.max(0, dotExactly(deviations, deviations) - (left * left) / values.length);
}

/** Variance with n − 1 below the line. Refused: fewer than two values. */
export function variance(values: ArrayLike<number>): number {
  if (values.length < 2) throw numericsError(`the variance of ${values.length} values`, "two or more");
  return sumOfSquaredDeviations(values) / (values.length - 1);
}

/** Standard deviation with n − 1 below the line. Example: `standardDeviation([1, 2, 3])` is 1. */
export function standardDeviation(values: ArrayLike<number>): number {
  return Math.sqrt(variance(values));
}

/**
 * Correlation of a series with itself `lag` places later, about the common mean: Σ d(i)·d(i + lag) / Σ d(i)². Use it on residuals in cutting order.
 * Refused: values that are all equal; a lag that leaves no pair.
 */
export function autocorrelation(values: ArrayLike<number>, options: { readonly lag?: number } = {}): number {
  const { lag = 1 } = options;
  const count = values.length;
  if (!Number.isInteger(lag) || lag < 1 || lag >= count)
    throw numericsError(
      `lag ${lag} in a series of ${count} values`,
      "a whole number from 1 to one less than their count",
    );
  const deviations = deviationsOf(values);
  const total = dotExactly(deviations, deviations);
  if (total === 0) throw numericsError("a series of equal values", "values that vary");
  return dotExactly(deviations.subarray(0, count - lag), deviations.subarray(lag)) / total;
}

function preciseMean(values: ArrayLike<number>): DoubleDouble {
  if (values.length === 0) throw numericsError("the mean of no values", "one or more");
  return divideExactly(sumToDoubleDouble(values), { high: values.length, low: 0 });
}

function deviationsOf(values: ArrayLike<number>): Float64Array {
  const centre = preciseMean(values);
  const deviations = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) deviations[i] = values[i] - centre.high - centre.low;
  return deviations;
}
