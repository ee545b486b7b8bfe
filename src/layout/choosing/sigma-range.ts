import { LayoutError } from "../error.ts";

/** Run-to-run scatter of a finish reading on one set-up, as a share of the reading. A rule of thumb, from memory. */
export const USUAL_SCATTER: readonly [number, number] = [0.05, 0.2];

/**
 * The range of σ that a guess of the response implies: from the low share of the low value to the high share of the high one.
 *
 * Use it where σ is unknown and a usual value of the response can be named. `value` is a number or a range in the response's
 * unit; `shares` are the least and the most that runs scatter, relative to the value (5 to 20 % unless given: a rule of thumb,
 * from memory, for surface finish). Refuses values and shares that are not above zero.
 *
 * Example: `sigmaRangeFrom({ low: 0.6, high: 1.2 })` is `{ low: 0.03, high: 0.24 }`.
 */
export function sigmaRangeFrom(
  value: number | { readonly low: number; readonly high: number },
  options: { readonly shares?: readonly [number, number] } = {},
): { readonly low: number; readonly high: number } {
  const { shares = USUAL_SCATTER } = options;
  const { low, high } = typeof value === "number" ? { low: value, high: value } : value;
  for (const [name, size] of [
    ["usual value", low],
    ["usual value", high],
    ["relative scatter", shares[0]],
    ["relative scatter", shares[1]],
  ] as const) {
    if (!(size > 0 && Number.isFinite(size)))
      throw new LayoutError(`${name}: ${size}; expected a number above zero.`);
  }
  if (low > high || shares[0] > shares[1]) {
    throw new LayoutError(
      `sigma: values from ${low} to ${high}, scatter from ${shares[0]} to ${shares[1]}; expected the lower one first.`,
    );
  }
  const tidy = (size: number) => Number(size.toPrecision(12));
  return { low: tidy(low * shares[0]), high: tidy(high * shares[1]) };
}
