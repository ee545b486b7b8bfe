import type { SearchAxis } from "./search-space.ts";

/**
 * Visits places of a grid in order, every setting of each axis, or where that makes more than `most` places, settings evenly taken with both ends among them.
 * `place` is one list, changed between visits. Returns how many were visited and whether that was all of them.
 */
export function everyPlace(
  axes: readonly SearchAxis[],
  most: number,
  visit: (place: Int32Array) => void,
): { readonly places: number; readonly all: boolean } {
  const lengths = axes.map(({ settings }) => settings.length);
  let taken = lengths.map((length) => length);
  for (let each = Math.max(...lengths); product(taken) > most && each > 2; each--)
    taken = lengths.map((length) => Math.min(length, each));
  const place = new Int32Array(axes.length);
  const counter = new Int32Array(axes.length);
  const total = product(taken);
  for (let k = 0; k < total; k++) {
    for (let i = 0; i < place.length; i++)
      place[i] = taken[i] === 1 ? 0 : Math.round((counter[i] * (lengths[i] - 1)) / (taken[i] - 1));
    visit(place);
    for (let i = place.length - 1; i >= 0; i--) {
      counter[i]++;
      if (counter[i] < taken[i]) break;
      counter[i] = 0;
    }
  }
  return { places: total, all: taken.every((count, i) => count === lengths[i]) };
}

function product(counts: readonly number[]): number {
  return counts.reduce((all, count) => all * count, 1);
}
