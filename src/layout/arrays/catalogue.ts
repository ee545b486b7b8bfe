import { hadamard } from "../algebra/hadamard.ts";
import { eighteen, fiftyFour, thirtySix } from "./difference-array.ts";
import { linearColumns, projectivePoints, type ArrayColumns, type Point } from "./linear-array.ts";

/** An array: how many columns of each number of levels, and how it is made for a wanted number of each. */
export interface ArrayPlan {
  readonly runs: number;
  /** True where so many columns of each number of levels can be had together. */
  readonly holds: (wanted: ReadonlyMap<number, number>) => boolean;
  /** Columns of each number of levels, as many as wanted or more. */
  readonly columns: (wanted: ReadonlyMap<number, number>) => ReadonlyMap<number, ArrayColumns>;
  /** Where every column is a point of one space, whose interactions are points too. */
  readonly space?: { readonly levels: number; readonly dimension: number };
}

function linear(levels: number, dimension: number): ArrayPlan {
  const most = (levels ** dimension - 1) / (levels - 1);
  return {
    runs: levels ** dimension,
    holds: (wanted) => [...wanted].every(([own, count]) => own === levels && count <= most),
    columns: () => new Map([[levels, linearColumns(levels, dimension, projectivePoints(levels, dimension))]]),
    ...(levels < 4 ? { space: { levels, dimension } } : {}),
  };
}

/** Two and four levels together: a line of three two-level columns a, b, ab makes one of four levels (Addelman 1962). */
function twoAndFour(dimension: number): ArrayPlan {
  const points = projectivePoints(2, dimension);
  return {
    runs: 2 ** dimension,
    holds: (wanted) => {
      const four = wanted.get(4) ?? 0;
      if (![...wanted.keys()].every((levels) => levels === 2 || levels === 4) || four === 0) return false;
      return disjointLines(points, four) !== undefined && (wanted.get(2) ?? 0) <= points.length - 3 * four;
    },
    columns: (wanted) => {
      const lines = disjointLines(points, wanted.get(4) ?? 0) ?? [];
      const used = new Set(lines.flat().map((point) => point.join()));
      const two = (list: readonly Point[]) => linearColumns(2, dimension, list);
      return new Map([
        [2, two(points.filter((point) => !used.has(point.join())))],
        [
          4,
          lines.map(([a = [], b = []]) => {
            const [first = [], second = []] = two([a, b]);
            return first.map((level, run) => 2 * level + (second[run] ?? 0));
          }),
        ],
      ]);
    },
  };
}

/** So many lines without a common point, by backtracking in a fixed order; undefined where they run out. */
function disjointLines(points: readonly Point[], count: number): readonly (readonly Point[])[] | undefined {
  let steps = 0;
  const codes = points.map((point) => point.reduce((sum, value, place) => sum + (value << place), 0));
  const search = (free: readonly number[], left: number): number[][] | undefined => {
    if (left === 0) return [];
    if (free.length < 3 * left || steps > 20_000) return undefined;
    const [first = 0] = free;
    for (const second of free.slice(1)) {
      steps += 1;
      const third = first ^ second;
      if (third < second || !free.includes(third)) continue;
      const rest = search(
        free.filter((code) => code !== first && code !== second && code !== third),
        left - 1,
      );
      if (rest) return [[first, second, third], ...rest];
    }
    return search(free.slice(1), left);
  };
  const found = search(
    [...codes].sort((one, other) => one - other),
    count,
  );
  return found?.map((line) => line.map((code) => points[codes.indexOf(code)] ?? []));
}

function fixed(runs: number, make: () => ArrayColumns): ArrayPlan {
  const byLevels = () => {
    const found = new Map<number, (readonly number[])[]>();
    for (const column of make()) {
      const levels = Math.max(...column) + 1;
      found.set(levels, [...(found.get(levels) ?? []), column]);
    }
    return found;
  };
  return {
    runs,
    holds: (wanted) => {
      const own = byLevels();
      return [...wanted].every(([levels, count]) => count <= (own.get(levels)?.length ?? 0));
    },
    columns: byLevels,
  };
}

function twelve(): ArrayColumns {
  const rows = hadamard(12) ?? [];
  return Array.from({ length: 11 }, (_, column) => rows.map((row) => ((row[column + 1] ?? 0) > 0 ? 1 : 0)));
}

/** All arrays, fewest runs first. */
export const arrayPlans: readonly ArrayPlan[] = [
  linear(2, 2),
  linear(2, 3),
  twoAndFour(3),
  linear(3, 2),
  fixed(12, twelve),
  linear(2, 4),
  linear(4, 2),
  twoAndFour(4),
  fixed(18, eighteen),
  linear(5, 2),
  linear(3, 3),
  linear(2, 5),
  twoAndFour(5),
  fixed(36, thirtySix),
  linear(7, 2),
  fixed(54, fiftyFour),
  linear(2, 6),
  linear(4, 3),
  twoAndFour(6),
  linear(3, 4),
];
