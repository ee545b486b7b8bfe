import { table } from "arquero";
import { plainDialect, type Dialect } from "./dialect.ts";
import { storeError } from "./error.ts";
import { neutralised } from "./formula-cells.ts";
import { numberText } from "./number-cell.ts";

/** A column to be written. A number in its fewest digits, text neutralised; `typed` numbers stand as they were typed. */
export interface CsvColumn {
  /** With the unit in brackets. */
  readonly header: string;
  readonly cells: readonly (string | number | null | { readonly typed: string })[];
}

/**
 * CSV text of columns of equal length, quoted where it must be; text that a spreadsheet would run as a formula gets an
 * apostrophe before it, which `readTable` takes off again.
 *
 * @example writeCsv([{ header: "run", cells: [1] }, { header: "note", cells: ["=1+1"] }]) // "run,note\n1,'=1+1\n"
 */
export function writeCsv(columns: readonly CsvColumn[], dialect: Dialect = plainDialect): string {
  const lengths = new Set(columns.map((column) => column.cells.length));
  if (lengths.size > 1)
    throw storeError({}, `the columns have ${[...lengths].join(", ")} cells; expected as many in each.`);
  const headers = new Set(columns.map((column) => column.header));
  if (headers.size < columns.length)
    throw storeError({}, "two columns have one header; expected a header of its own for each.");
  const { delimiter, bom, newline } = dialect;
  const cells = columns.map(
    (column) => [neutralised(column.header), column.cells.map((cell) => cellText(cell, dialect))] as const,
  );
  const text = table(cells).toCSV({ delimiter });
  return (bom ? "\ufeff" : "") + (newline === "\n" ? text : text.replaceAll("\n", newline));
}

function cellText(cell: CsvColumn["cells"][number], { decimal }: Dialect): string {
  if (cell === null) return "";
  if (typeof cell === "number") return numberText(cell, decimal);
  return typeof cell === "string" ? neutralised(cell) : cell.typed;
}
