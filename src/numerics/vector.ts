/**
 * Inner loops over stretches of flat arrays. Four running sums let the processor overlap its additions, and shorten the chain of roundings.
 * `aStart` and `bStart` are where the stretches begin.
 */
export function dot(
  a: Float64Array,
  aStart: number,
  b: Float64Array,
  bStart: number,
  length: number,
): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  const whole = length - (length % 4);
  let i = 0;
  for (; i < whole; i += 4) {
    s0 += a[aStart + i] * b[bStart + i];
    s1 += a[aStart + i + 1] * b[bStart + i + 1];
    s2 += a[aStart + i + 2] * b[bStart + i + 2];
    s3 += a[aStart + i + 3] * b[bStart + i + 3];
  }
  for (; i < length; i++) s0 += a[aStart + i] * b[bStart + i];
  return s0 + s1 + (s2 + s3);
}

/** target += factor × source, in place, on the caller's own scratch array. */
export function addMultiple(
  target: Float64Array,
  targetStart: number,
  factor: number,
  source: Float64Array,
  sourceStart: number,
  length: number,
): void {
  for (let i = 0; i < length; i++) target[targetStart + i] += factor * source[sourceStart + i];
}

/** Euclidean length; the caller has scaled the entries so that squares neither overflow nor vanish. */
export function norm(a: Float64Array, start: number, length: number): number {
  return Math.sqrt(dot(a, start, a, start, length));
}

/** Largest absolute entry; 0 of none. */
export function largest(a: Float64Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]));
  return most;
}

/** The power of two that brings `value` into [1, 2), held within ±1000 so that it and its inverse stay finite; 1 for 0. Multiplying by it is exact. */
export function scaleToOne(value: number): number {
  if (value === 0) return 1;
  const exponent = Math.floor(Math.log2(value));
  return 2 ** -Math.max(-1000, Math.min(1000, exponent));
}
