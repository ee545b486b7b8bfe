import { galoisField } from "../algebra/galois-field.ts";

/** Columns of an array, each a list of levels from 0, run by run. */
export type ArrayColumns = readonly (readonly number[])[];

/** A point of the projective space over q elements: the column is its inner product with the run. */
export type Point = readonly number[];

/** The points of the space of that dimension, first entry that is not 0 set to 1 (Rao, J. Royal Statistical Society Supplement 9, 1947). */
export function projectivePoints(levels: number, dimension: number): readonly Point[] {
  return Array.from({ length: levels ** dimension - 1 }, (_, index) =>
    digits(index + 1, levels, dimension),
  ).filter((point) => point.find((value) => value !== 0) === 1);
}

/** Columns for points, over all levels^dimension runs; the first digit of the run changes slowest. */
export function linearColumns(levels: number, dimension: number, points: readonly Point[]): ArrayColumns {
  const field = galoisField(levels);
  const runs = Array.from({ length: levels ** dimension }, (_, run) =>
    [...digits(run, levels, dimension)].reverse(),
  );
  return points.map((point) =>
    runs.map((run) =>
      point.reduce((sum, value, place) => field.add(sum, field.multiply(value, run[place] ?? 0)), 0),
    ),
  );
}

/** The points that carry the interaction of two columns (levels a prime): u + c·v for c = 1 … levels − 1. */
export function interactionPoints(levels: number, one: Point, other: Point): readonly Point[] {
  return Array.from({ length: levels - 1 }, (_, index) => {
    const sum = one.map((value, place) => (value + (index + 1) * (other[place] ?? 0)) % levels);
    const lead = sum.find((value) => value !== 0) ?? 1;
    const inverse =
      Array.from({ length: levels }, (_unused, value) => value).find(
        (value) => (value * lead) % levels === 1,
      ) ?? 1;
    return sum.map((value) => (value * inverse) % levels);
  });
}

function digits(number: number, base: number, length: number): readonly number[] {
  return Array.from({ length }, (_, place) => Math.floor(number / base ** place) % base);
}
