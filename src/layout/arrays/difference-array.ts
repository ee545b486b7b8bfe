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

/** 18 runs: one column of two levels, seven of three. */
export function eighteen(): ArrayColumns {
  const six = numbers(OF_SIX);
  return [
    repeated(six.map((_, row) => row % 2)),
    repeated(six.map((_, row) => Math.floor(row / 2))),
    ...developed(six),
  ];
}

/** 36 runs: eleven columns of two levels, twelve of three. */
export function thirtySix(): ArrayColumns {
  const two = hadamard(12) ?? [];
  const columns = Array.from({ length: 11 }, (_, column) =>
    two.map((row) => ((row[column + 1] ?? 0) > 0 ? 1 : 0)),
  );
  return [...columns.map(repeated), ...developed(numbers(OF_TWELVE))];
}

/** 54 runs: one column of two levels, 25 of three. */
export function fiftyFour(): ArrayColumns {
  const six = numbers(OF_SIX);
  const three = [0, 1, 2].map((row) => [0, 1, 2].map((column) => (row * column) % 3));
  const eighteenRows = three.flatMap((outer) =>
    six.map((inner) => outer.flatMap((a) => inner.map((b) => (a + b) % 3))),
  );
  return [...eighteen().map(repeated), ...developed(eighteenRows)];
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
