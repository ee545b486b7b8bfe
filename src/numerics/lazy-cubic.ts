/**
 * A smooth function asked very often, by cubics through its values at places `step` apart, which are computed once, when first needed. What a cubic misses is of
 * the fourth order of the step.
 */
export function lazyCubic(valueAt: (place: number) => number, step: number): (place: number) => number {
  const known = new Map<number, number>();
  const at = (k: number): number => {
    let value = known.get(k);
    if (value === undefined) known.set(k, (value = valueAt(k * step)));
    return value;
  };
  let base = NaN;
  let [a, b, c, d] = [0, 0, 0, 0];
  return (place) => {
    const k = Math.floor(place / step);
    if (k !== base) {
      [a, b, c, d] = [at(k - 1), at(k), at(k + 1), at(k + 2)];
      base = k;
    }
    return between(a, b, c, d, place / step - k);
  };
}

/** The same over two directions, with a step for each; across, nothing below zero is asked for. */
export function lazyCubics(
  valueAt: (across: number, along: number) => number,
  [step, stepAlong]: readonly [number, number],
): (across: number, along: number) => number {
  const lines = new Map<number, (along: number) => number>();
  const line = (k: number): ((along: number) => number) => {
    let one = lines.get(k);
    if (one === undefined) lines.set(k, (one = lazyCubic((along) => valueAt(k * step, along), stepAlong)));
    return one;
  };
  return (across, along) => {
    const k = Math.max(1, Math.floor(across / step));
    const u = across / step - k;
    return between(line(k - 1)(along), line(k)(along), line(k + 1)(along), line(k + 2)(along), u);
  };
}

function between(a: number, b: number, c: number, d: number, u: number): number {
  return (
    (-a * u * (u - 1) * (u - 2)) / 6 +
    (b * (u + 1) * (u - 1) * (u - 2)) / 2 -
    (c * (u + 1) * u * (u - 2)) / 2 +
    (d * (u + 1) * u * (u - 1)) / 6
  );
}
