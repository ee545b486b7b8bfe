import { hadamard } from "../algebra/hadamard.ts";
import type { ArrayColumns } from "./linear-array.ts";

/**
 * Difference matrices over the integers modulo 3: the difference of any two rows holds 0, 1 and 2 equally often (Bose and
 * Bush, Annals of Mathematical Statistics 23, 1952, 508–524). Found by search; every array made from them is checked.
 */
const OF_SIX = ["000000", "001122", "010212", "012021", "021201", "022110"];
const OF_TWELVE = [
  "000000000000",
  "000011112222",
  "000102221112",
  "001220120121",
  "010221202011",
  "012012020211",
  "012120012102",
  "012202111020",
  "021020211210",
  "021102102201",
  "021211021002",
  "022111200120",
];

/** Columns of two levels from a Hadamard matrix, one fewer than its runs. */
export function signColumns(runs: number): ArrayColumns {
  const rows = hadamard(runs) ?? [];
  return Array.from({ length: runs - 1 }, (_, column) =>
    rows.map((row) => ((row[column + 1] ?? 0) > 0 ? 1 : 0)),
  );
}

const twelve = Array.from({ length: 12 }, (_, row) => row);
const eighteenRuns = Array.from({ length: 18 }, (_, run) => run);

/** Arrays of 12 runs, each with what it holds: 2^11; 3·2^4; 6·2^2; 4·3; 12. */
export const rowsOfTwelve: readonly (() => ArrayColumns)[] = [
  () => signColumns(12),
  () => [twelve.map((row) => Math.floor(row / 4)), ...balancedSigns(12, 4, 4)],
  () => [twelve.map((row) => Math.floor(row / 2)), ...balancedSigns(12, 2, 2)],
  () => [twelve.map((row) => Math.floor(row / 3)), twelve.map((row) => row % 3)],
  () => [twelve],
];

/** Arrays of 18 runs: 2·3^7; 6·3^6. */
export const rowsOfEighteen: readonly (() => ArrayColumns)[] = [
  () => {
    const six = numbers(OF_SIX);
    return [
      repeated(six.map((_, row) => row % 2)),
      repeated(six.map((_, row) => Math.floor(row / 2))),
      ...developed(six),
    ];
  },
  () => [eighteenRuns.map((run) => Math.floor(run / 3)), ...developed(numbers(OF_SIX))],
];

/** 36 runs: every column of an array of 12 runs, and twelve of three levels. */
export function overTwelve(rows: ArrayColumns): ArrayColumns {
  return [...rows.map(repeated), ...developed(numbers(OF_TWELVE))];
}

/** 54 runs: every column of an array of 18 runs, and 18 of three levels. */
export function overEighteen(rows: ArrayColumns): ArrayColumns {
  const six = numbers(OF_SIX);
  const three = [0, 1, 2].map((row) => [0, 1, 2].map((column) => (row * column) % 3));
  const rowsOfThat = three.flatMap((outer) =>
    six.map((inner) => outer.flatMap((a) => inner.map((b) => (a + b) % 3))),
  );
  return [...rows.map(repeated), ...developed(rowsOfThat)];
}

/**
 * Columns of two levels, half and half in every group of consecutive runs and at right angles to one another: the first that a
 * search in counting order finds.
 */
function balancedSigns(runs: number, group: number, count: number): ArrayColumns {
  const found: (readonly number[])[] = [];
  for (let code = 0; code < 2 ** runs && found.length < count; code += 1) {
    const column = Array.from({ length: runs }, (_, run) => (code >> run) & 1);
    const even = column.every(
      (_, run) =>
        run % group !== 0 ||
        2 * column.slice(run, run + group).reduce((sum, level) => sum + level, 0) === group,
    );
    const apart = found.every((other) => {
      const equal = column.filter((level, run) => level === other[run]).length;
      return 2 * equal === runs;
    });
    if (even && apart) found.push(column);
  }
  return found;
}

function numbers(rows: readonly string[]): readonly (readonly number[])[] {
  return rows.map((row) => [...row].map(Number));
}

/** Each row of the matrix becomes a column over (place, shift), three shifts a place. */
function developed(rows: readonly (readonly number[])[]): ArrayColumns {
  return rows.map((row) => row.flatMap((value) => [0, 1, 2].map((shift) => (value + shift) % 3)));
}

function repeated(column: readonly number[]): readonly number[] {
  return column.flatMap((level) => [level, level, level]);
}
