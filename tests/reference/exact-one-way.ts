/**
 * Sums of squares and F of a one-way layout in exact arithmetic on the doubles given, each rounded once at the end. Every value is a whole multiple of 2⁻⁶⁰
 * here (readings of magnitude 0.001 and more), so sums are sums of whole numbers.
 */
export function exactOneWay(groups: readonly (readonly number[])[]): {
  readonly between: number;
  readonly residual: number;
  readonly f: number;
} {
  const whole = groups.map((values) => values.map(asWhole));
  const total = (values: readonly bigint[]): bigint => values.reduce((sum, value) => sum + value, 0n);
  const count = BigInt(whole.flat().length);
  // Over the product of all group sizes and the count, every mean is whole.
  const sizes = whole.map((values) => BigInt(values.length));
  const common = sizes.reduce((product, size) => product * size, 1n) * count;
  const squares = total(whole.flat().map((value) => value * value)) * common;
  const ofGroups = total(whole.map((values, g) => (total(values) ** 2n * common) / sizes[g]));
  const ofAll = (total(whole.flat()) ** 2n * common) / count;
  const [between, residual] = [ofGroups - ofAll, squares - ofGroups];
  const scale = common * 2n ** 120n;
  const [dfBetween, dfResidual] = [BigInt(groups.length - 1), count - BigInt(groups.length)];
  return {
    between: ratio(between, scale),
    residual: ratio(residual, scale),
    f: ratio(between * dfResidual, residual * dfBetween),
  };
}

/** A double as a whole number of 2⁻⁶⁰. */
function asWhole(value: number): bigint {
  const whole = Math.trunc(value);
  const rest = (value - whole) * 2 ** 60;
  if (!Number.isInteger(rest)) throw new Error(`${value} has digits below 2⁻⁶⁰`);
  return BigInt(whole) * 2n ** 60n + BigInt(rest);
}

/** The nearest double, but for half a unit of the 30th digit. */
function ratio(numerator: bigint, denominator: bigint): number {
  let [shift, scaled] = [0, numerator];
  while (scaled !== 0n && scaled / denominator < 10n ** 30n) [shift, scaled] = [shift + 1, scaled * 10n];
  return Number(`${scaled / denominator}e${-shift}`);
}
