import { nearestName } from "../trial/index.ts";
import { quoted, storeError } from "./error.ts";
import type { DataTable, TableColumn } from "./read-table.ts";

/** Finds the columns of one of the trial's own files by name, whatever their order. */
export interface NamedColumns {
  /** The column; null where the file has none of the name. */
  readonly find: (name: string) => TableColumn | null;
  /** A cell as typed; empty where the column is missing. */
  readonly cell: (name: string, row: number) => string;
}

/**
 * The columns of a file that has these names and no others. Refused: a column that is missing, and one that is unknown,
 * with the nearest known name.
 */
export function namedColumns(
  table: DataTable,
  required: readonly string[],
  optional: readonly string[],
): NamedColumns {
  const { file } = table;
  const known = [...required, ...optional];
  const byName = new Map(table.columns.map((column) => [column.name.toLowerCase(), column]));
  const find = (name: string): TableColumn | null => byName.get(name.toLowerCase()) ?? null;
  for (const { name } of table.columns) {
    if (known.some((other) => other.toLowerCase() === name.toLowerCase())) continue;
    const near = nearestName(name, known);
    const mend =
      near === null ? "Remove it, or add the factor to trial.json first." : `Did you mean ${quoted(near)}?`;
    throw storeError(
      { file, line: 1, field: name },
      `got the unknown column ${quoted(name)}; expected ${known.join(", ")}. ${mend}`,
    );
  }
  for (const name of required) {
    if (find(name) !== null) continue;
    throw storeError(
      { file, line: 1, field: name },
      `the column is missing; expected ${required.join(", ")}. Add it.`,
    );
  }
  return { find, cell: (name, row) => find(name)?.texts[row] ?? "" };
}

/** A whole number from `least` on, in a cell that may be empty where `otherwise` is given. */
export function wholeNumber(
  cell: string,
  place: { readonly file: string; readonly line: number; readonly run?: number; readonly field: string },
  otherwise?: number,
): number {
  const text = cell.trim();
  if (text === "" && otherwise !== undefined) return otherwise;
  const value = /^\d+(?:[.,]0+)?$/.test(text) ? Math.trunc(Number(text.replace(",", "."))) : Number.NaN;
  if (Number.isSafeInteger(value) && value >= 1) return value;
  throw storeError(
    place,
    `got ${text === "" ? "nothing" : quoted(text)}; expected a whole number from 1. Mend the cell.`,
  );
}
