/** Terms below this share of the sum are left out. */
const negligible = 1e-17;

/**
 * Integral over the real line of a smooth function with one hump and no negative values, as its plain sum at even steps taken outwards from `start`, which should lie
 * near the hump. The error falls faster than any power of the step; the caller knows how narrow the function is and so which step is small enough.
 */
export function outwardSum(valueAt: (x: number) => number, start: number, step: number): number {
  let sum = valueAt(start);
  for (const direction of [step, -step]) {
    let previous = 0;
    for (let k = 1; k < 100_000; k++) {
      const value = valueAt(start + k * direction);
      sum += value;
      if (value <= previous && value <= negligible * sum) break;
      previous = value;
    }
  }
  return sum * step;
}
