/** The smallest and largest of a list, in one pass and of any length; [0, 0] of none. */
export function extent(values: Iterable<number>): readonly [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low <= high ? [low, high] : [0, 0];
}
