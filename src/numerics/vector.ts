/** Long dot products are summed stretch by stretch, so that rounding grows with the root of a stretch and not of the whole. */
const stretch = 512;

/** Dot product of two stretches of flat arrays; `aStart` and `bStart` are where they begin. */
export function dot(
  a: Float64Array,
  aStart: number,
  b: Float64Array,
  bStart: number,
  length: number,
): number {
  if (length <= stretch) return shortDot(a, aStart, b, bStart, length);
  let sum = 0;
  for (let from = 0; from < length; from += stretch)
    sum += shortDot(a, aStart + from, b, bStart + from, Math.min(stretch, length - from));
  return sum;
}

/** Four running sums let the processor overlap its additions. */
function shortDot(a: Float64Array, aStart: number, b: Float64Array, bStart: number, length: number): number {
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
  const whole = length - (length % 4);
  let i = 0;
  for (; i < whole; i += 4) {
    const t = targetStart + i;
    const s = sourceStart + i;
    target[t] += factor * source[s];
    target[t + 1] += factor * source[s + 1];
    target[t + 2] += factor * source[s + 2];
    target[t + 3] += factor * source[s + 3];
  }
  for (; i < length; i++) target[targetStart + i] += factor * source[sourceStart + i];
}

/**
 * target += Σ factors[k] × source column k for k below `count`, in place; columns of `length` entries stand one behind the other at `starts`. Four at a time, so that the
 * target is read and written a quarter as often.
 */
export function addCombination(
  target: Float64Array,
  targetStart: number,
  factors: Float64Array,
  source: Float64Array,
  starts: readonly number[],
  count: number,
  length: number,
): void {
  let k = 0;
  for (; k + 4 <= count; k += 4) {
    const [f0, f1, f2, f3] = [factors[k], factors[k + 1], factors[k + 2], factors[k + 3]];
    const [s0, s1, s2, s3] = [starts[k], starts[k + 1], starts[k + 2], starts[k + 3]];
    for (let i = 0; i < length; i++)
      target[targetStart + i] +=
        f0 * source[s0 + i] + f1 * source[s1 + i] + (f2 * source[s2 + i] + f3 * source[s3 + i]);
  }
  for (; k < count; k++) addMultiple(target, targetStart, factors[k], source, starts[k], length);
}

/** Euclidean length; the caller has scaled the entries so that squares neither overflow nor vanish. */
export function norm(a: Float64Array, start: number, length: number): number {
  return Math.sqrt(dot(a, start, a, start, length));
}

/** Largest absolute entry; 0 of none. */
export function largest(a: Float64Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) {
    const size = Math.abs(a[i]);
    if (size > most) most = size;
  }
  return most;
}

/** The power of two that brings `value` into [1, 2), held within ±1000 so that it and its inverse stay finite; 1 for 0. Multiplying by it is exact. */
export function scaleToOne(value: number): number {
  if (value === 0) return 1;
  const exponent = Math.floor(Math.log2(value));
  return 2 ** -Math.max(-1000, Math.min(1000, exponent));
}
