import { seededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import { categoryBasis, type ColumnParts } from "../coded-columns.ts";
import type { ModelColumns } from "./model-columns.ts";

/** Points looked at for the worst prediction: all corners (with middles, where the model bends) up to this many, else so many drawn. */
const MOST_POINTS = 1024;

/**
 * The model's own columns (mean and terms, no blocks) at the corners of the region, coded; the middles too of a quantity that
 * stands in a square. The variance of a model that is straight in each factor is largest at a corner.
 */
export function regionColumns(
  { parts }: ModelColumns,
  factors: readonly Factor[],
): { readonly own: readonly number[]; readonly columns: readonly Float64Array[]; readonly points: number } {
  const own = parts.flatMap((part, index) => (part ? [index] : []));
  const bends = (name: string) =>
    parts.some((part) => {
      const of = part?.get(name);
      return of !== undefined && "power" in of && of.power > 1;
    });
  const counts = factors.map((factor) =>
    factor.kind === "category" ? factor.levels.length : bends(factor.name) ? 3 : 2,
  );
  const all = counts.reduce((product, count) => product * count, 1);
  const points = Math.min(all, MOST_POINTS);
  const random = seededRandom(1);
  let stride = 1;
  const places = factors.map((_, index) => {
    const count = counts[index] ?? 1;
    const step = stride;
    stride *= count;
    return Int32Array.from({ length: points }, (_unused, point) =>
      all <= MOST_POINTS ? Math.floor(point / step) % count : random.integer(count),
    );
  });
  return {
    own,
    points,
    columns: own.map((index) => columnAt(parts[index] ?? new Map(), factors, places, points)),
  };
}

/** Corners first, so that a quantity that never bends has its two ends. */
const CODED = [-1, 1, 0];

function columnAt(
  part: ColumnParts,
  factors: readonly Factor[],
  places: readonly Int32Array[],
  points: number,
): Float64Array {
  const column = new Float64Array(points).fill(1);
  factors.forEach((factor, index) => {
    const of = part.get(factor.name);
    if (!of) return;
    const values =
      factor.kind === "category"
        ? "basis" in of
          ? (categoryBasis(factor.levels.length)[of.basis] ?? [])
          : []
        : CODED.map((value) => value ** ("power" in of ? of.power : 1));
    const place = places[index];
    for (let point = 0; point < points; point += 1)
      column[point] = (column[point] ?? 0) * (values[place?.[point] ?? 0] ?? 0);
  });
  return column;
}
