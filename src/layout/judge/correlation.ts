/** A column less its mean, of length 1; undefined where it never moves. */
export function standardised(column: Float64Array): Float64Array | undefined {
  const mean = column.reduce((sum, value) => sum + value, 0) / column.length;
  const centred = column.map((value) => value - mean);
  const length = Math.sqrt(centred.reduce((sum, value) => sum + value * value, 0));
  const largest = column.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // Below this share of its size a column is constant but for rounding.
  if (!(length > 1e-9 * largest * Math.sqrt(column.length))) return undefined;
  return centred.map((value) => value / length);
}

/** Correlation of two standardised columns, exact zeros and ones cleared of rounding. */
export function correlationOf(one: Float64Array | undefined, other: Float64Array | undefined): number {
  if (!one || !other) return 0;
  let sum = 0;
  for (let row = 0; row < one.length; row += 1) sum += (one[row] ?? 0) * (other[row] ?? 0);
  if (Math.abs(sum) < 1e-12) return 0;
  return Math.max(-1, Math.min(1, sum));
}
