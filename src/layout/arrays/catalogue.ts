import { overEighteen, overTwelve, rowsOfEighteen, rowsOfTwelve, signColumns } from "./difference-array.ts";
import { disjointSubspaces } from "./disjoint-subspaces.ts";
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

function fixed(runs: number, make: () => ArrayColumns): ArrayPlan {
  let made: ReadonlyMap<number, ArrayColumns> | undefined;
  const byLevels = () => (made ??= columnsByLevels());
  const columnsByLevels = () => {
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

/**
 * Every column of a linear array over q^d elements is q^d levels, or in its place the columns of q levels into which its digits
 * split: 16 runs hold 4^a 2^(15 − 3a), 81 runs 9^a 3^(40 − 4a) (Addelman, Technometrics 4, 1962).
 */
function nested(levels: number, dimension: number, base: number): ArrayPlan {
  const most = (levels ** dimension - 1) / (levels - 1);
  const each = (levels - 1) / (base - 1);
  const digits = Math.round(Math.log(levels) / Math.log(base));
  return {
    runs: levels ** dimension,
    holds: (wanted) => {
      const whole = wanted.get(levels) ?? 0;
      return (
        [...wanted.keys()].every((own) => own === levels || own === base) &&
        whole <= most &&
        (wanted.get(base) ?? 0) <= (most - whole) * each
      );
    },
    columns: (wanted) => {
      const whole = wanted.get(levels) ?? 0;
      const all = linearColumns(levels, dimension, projectivePoints(levels, dimension));
      const points = projectivePoints(base, digits);
      const split = all
        .slice(whole)
        .flatMap((column) => points.map((point) => column.map((level) => digitSum(level, point, base))));
      return new Map([
        [levels, all.slice(0, whole)],
        [base, split],
      ]);
    },
  };
}

/** The inner product of a level's digits with a point, modulo a prime base. */
function digitSum(level: number, point: Point, base: number): number {
  return (
    point.reduce((sum, value, place) => sum + value * (Math.floor(level / base ** place) % base), 0) % base
  );
}

/** Columns of q, q², q³ … levels together over a prime q: a subspace of d dimensions makes one column of q^d levels. */
function withSubspaces(base: number, dimension: number): ArrayPlan {
  const asked = (wanted: ReadonlyMap<number, number>): readonly number[] | undefined => {
    const sizes: number[] = [];
    for (const [levels, count] of wanted) {
      const power = Math.round(Math.log(levels) / Math.log(base));
      if (base ** power !== levels || power > dimension) return undefined;
      if (power > 1) sizes.push(...new Array<number>(Math.min(count, 1000)).fill(power));
    }
    return sizes.sort((one, other) => other - one);
  };
  const most = (base ** dimension - 1) / (base - 1);
  const room = (wanted: ReadonlyMap<number, number>, sizes: readonly number[]): boolean =>
    (wanted.get(base) ?? 0) + sizes.reduce((sum, power) => sum + (base ** power - 1) / (base - 1), 0) <= most;
  return {
    runs: base ** dimension,
    holds: (wanted) => {
      const sizes = asked(wanted);
      if (!sizes || sizes.length === 0 || !room(wanted, sizes)) return false;
      return disjointSubspaces(base, dimension, sizes) !== undefined;
    },
    columns: (wanted) => {
      const subspaces = disjointSubspaces(base, dimension, asked(wanted) ?? []) ?? [];
      const used = new Set(subspaces.flatMap(({ points }) => points.map((point) => point.join())));
      const free = projectivePoints(base, dimension).filter((point) => !used.has(point.join()));
      const found = new Map<number, (readonly number[])[]>([
        [base, [...linearColumns(base, dimension, free)]],
      ]);
      for (const { spanning } of subspaces) {
        const digits = linearColumns(base, dimension, spanning);
        const column = (digits[0] ?? []).map((_, run) =>
          digits.reduce((sum, digit) => base * sum + (digit[run] ?? 0), 0),
        );
        const levels = base ** spanning.length;
        found.set(levels, [...(found.get(levels) ?? []), column]);
      }
      return found;
    },
  };
}

/** All arrays, fewest runs first. */
export const arrayPlans: readonly ArrayPlan[] = [
  linear(2, 2),
  linear(2, 3),
  withSubspaces(2, 3),
  linear(3, 2),
  ...rowsOfTwelve.map((make) => fixed(12, make)),
  linear(2, 4),
  nested(4, 2, 2),
  withSubspaces(2, 4),
  ...rowsOfEighteen.map((make) => fixed(18, make)),
  linear(5, 2),
  linear(3, 3),
  withSubspaces(3, 3),
  linear(2, 5),
  withSubspaces(2, 5),
  ...rowsOfTwelve.map((make) => fixed(36, () => overTwelve(make()))),
  fixed(36, () => signColumns(36)),
  linear(7, 2),
  ...rowsOfEighteen.map((make) => fixed(54, () => overEighteen(make()))),
  linear(2, 6),
  nested(4, 3, 2),
  nested(8, 2, 2),
  withSubspaces(2, 6),
  linear(3, 4),
  nested(9, 2, 3),
  withSubspaces(3, 4),
];
