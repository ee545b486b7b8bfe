import { galoisField } from "../algebra/galois-field.ts";
import { projectivePoints, type Point } from "./linear-array.ts";

export interface Subspace {
  /** As many independent points as the subspace has dimensions. */
  readonly spanning: readonly Point[];
  readonly points: readonly Point[];
}

/** Steps after which a search is given up; the spaces are small, so that what exists is mostly found long before. */
const MOST_STEPS = 20_000;

/**
 * Subspaces of the dimensions wanted (largest first) without a common point: from a partition over a larger field where one
 * has them, else by backtracking in a fixed order; undefined where none are found. A prime base only.
 */
export function disjointSubspaces(
  base: number,
  dimension: number,
  dimensions: readonly number[],
): readonly Subspace[] | undefined {
  // Two subspaces whose dimensions add up to more than the whole have a point in common.
  const [first = 0, second = 0] = dimensions;
  if (first + second > dimension) return undefined;
  for (let small = 2; 2 * small <= dimension; small += 1) {
    const found = fromPartition(base, small, dimension - small, dimensions);
    if (found) return found;
  }
  return backtracked(base, dimension, dimensions);
}

/**
 * Over a field of q^large elements the sets {(u, a·u)}, one for each a, are q^large subspaces of the small dimension that meet
 * neither one another nor the subspace {(0, w)}, and cover all else (Bu, Discrete Mathematics 31, 1980, 79–83). What they do not
 * serve is looked for inside {(0, w)}.
 */
function fromPartition(
  base: number,
  small: number,
  large: number,
  dimensions: readonly number[],
): readonly Subspace[] | undefined {
  const field = galoisField(base ** large);
  const own = dimensions.filter((one) => one === small).length;
  const sliced = Math.min(own, base ** large);
  const rest = [...dimensions.filter((one) => one !== small), ...new Array<number>(own - sliced).fill(small)];
  if (rest.some((one) => one > large)) return undefined;
  const within = disjointSubspaces(
    base,
    large,
    rest.sort((one, other) => other - one),
  );
  if (!within) return undefined;
  const units = Array.from({ length: small }, (_, place) => base ** place);
  const slices = Array.from({ length: sliced }, (_, factor): Subspace => {
    const spanning = units.map((unit) => [
      ...digitsOf(unit, base, small),
      ...digitsOf(field.multiply(factor, unit), base, large),
    ]);
    return { spanning, points: spanned(base, spanning) };
  });
  const padded = (point: Point): Point => [...new Array<number>(small).fill(0), ...point];
  const others = within.map(({ spanning, points }) => ({
    spanning: spanning.map(padded),
    points: points.map(padded),
  }));
  return [...others, ...slices];
}

function digitsOf(number: number, base: number, length: number): readonly number[] {
  return Array.from({ length }, (_, place) => Math.floor(number / base ** place) % base);
}

function backtracked(
  base: number,
  dimension: number,
  dimensions: readonly number[],
): readonly Subspace[] | undefined {
  const all = projectivePoints(base, dimension);
  let steps = 0;
  const search = (free: readonly Point[], left: readonly number[]): readonly Subspace[] | undefined => {
    const [next, ...rest] = left;
    if (next === undefined) return [];
    const keys = new Set(free.map((point) => point.join()));
    for (const spanning of spans(free, next)) {
      steps += 1;
      if (steps > MOST_STEPS) return undefined;
      const points = spanned(base, spanning);
      if (!points.every((point) => keys.has(point.join()))) continue;
      const taken = new Set(points.map((point) => point.join()));
      const found = search(
        free.filter((point) => !taken.has(point.join())),
        rest,
      );
      if (found) return [{ spanning, points }, ...found];
    }
    return undefined;
  };
  return search(all, dimensions);
}

/** Sets of so many of the points, the first free point in each: a later subspace need not go back before it. */
function* spans(free: readonly Point[], size: number): Generator<readonly Point[]> {
  const choose = function* (from: number, left: number): Generator<readonly Point[]> {
    if (left === 0) {
      yield [];
      return;
    }
    for (let at = from; at < free.length; at += 1) {
      const point = free[at];
      if (!point) continue;
      for (const more of choose(at + 1, left - 1)) yield [point, ...more];
    }
  };
  yield* choose(0, size);
}

/** The points of the subspace that these span; fewer than it should have where they are not independent. */
function spanned(base: number, spanning: readonly Point[]): readonly Point[] {
  const field = galoisField(base);
  return projectivePoints(base, spanning.length).map((weights) => {
    const sum = (spanning[0] ?? []).map((_, place) =>
      spanning.reduce(
        (total, point, index) => field.add(total, field.multiply(weights[index] ?? 0, point[place] ?? 0)),
        0,
      ),
    );
    const lead = sum.find((value) => value !== 0) ?? 1;
    const inverse = Array.from({ length: base }, (_, value) => value).find(
      (value) => field.multiply(value, lead) === 1,
    );
    return sum.map((value) => field.multiply(value, inverse ?? 1));
  });
}
