/**
 * Round numbers from `low` to `high`, steps of 1, 2, 2.5 or 5 times a power of ten, at most about `count` of them; `only`
 * whole numbers, in steps of 1, 2 or 5, for what is counted.
 */
export function evenTicks(
  low: number,
  high: number,
  count: number,
  whole: "only" | "any" = "any",
): readonly number[] {
  const span = high - low;
  if (!(span > 0) || count < 1) return [low];
  const decade = 10 ** Math.floor(Math.log10(span / count));
  // The first step that gives no more ticks than asked for.
  const steps = (whole === "only" ? [1, 2, 5, 10, 20] : [1, 2, 2.5, 5, 10, 20]).map(
    (times) => times * decade,
  );
  const round = steps.find((each) => span / each <= count) ?? span;
  const step = whole === "only" ? Math.max(1, Math.round(round)) : round;
  const ticks: number[] = [];
  // Half a millionth of a step forgives rounding at the ends.
  for (let index = Math.ceil(low / step - 5e-7); index * step <= high + step * 5e-7; index++) {
    ticks.push(cleaned(index * step));
  }
  return ticks;
}

/** Round numbers for a logarithmic scale: as many digits of each decade as `count` has room for. */
export function ratioTicks(low: number, high: number, count: number): readonly number[] {
  // Under a factor of three, a scale of ratios is so nearly even that even steps read better.
  if (!(low > 0) || high / low < 3) return evenTicks(low, high, count);
  const choices = [[1, 1.5, 2, 3, 4, 5, 6, 8], [1, 2, 3, 5], [1, 2, 5], [1, 3], [1]];
  let ticks: number[] = [];
  for (const digits of choices) {
    ticks = [];
    for (let power = Math.floor(Math.log10(low)); 10 ** power <= high; power++) {
      for (const digit of digits) {
        const tick = cleaned(digit * 10 ** power);
        if (tick >= low * (1 - 1e-9) && tick <= high * (1 + 1e-9)) ticks.push(tick);
      }
    }
    if (ticks.length <= count + 2) break;
  }
  return ticks;
}

/** Without the last bits that repeated addition leaves: 0.30000000000000004 is 0.3. */
export function cleaned(value: number): number {
  return Number(value.toPrecision(12));
}
