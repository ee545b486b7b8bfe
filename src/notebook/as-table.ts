import type { FigureTable } from "../figure/index.ts";
import { notebookError } from "./error.ts";

type Cell = string | number | null;

/** As much of an Arquero table as is asked for here, so that any version of it will do. */
export interface ColumnTableLike {
  readonly columnNames: () => string[];
  readonly objects: () => object[];
}

/** What `page.table` takes: columns and rows, an Arquero table, plain records, or a result that carries its own table. */
export type TableSource =
  FigureTable | ColumnTableLike | { readonly table: FigureTable | ColumnTableLike } | readonly object[];

/**
 * Columns and rows of whatever a notebook wants shown. Cells become text, finite numbers or empty: a quantity or an interval
 * gives its text, a date its ISO form, yes and no for true and false; what can't be computed (NaN, infinite) stays empty, so that no
 * NaN reaches a page. Refuses, by column and row, a cell that none of this can show.
 *
 * @example asFigureTable([{ feed: 0.1, edge: "fresh" }]) // { columns: ["feed", "edge"], rows: [[0.1, "fresh"]] }
 */
export function asFigureTable(source: TableSource): FigureTable {
  if (typeof source !== "object" || source === null) throw noTable();
  if (Array.isArray(source)) {
    if (!source.every((record) => typeof record === "object" && record !== null)) throw noTable();
    return fromRecords(source as readonly object[]);
  }
  if (isColumnTable(source)) return fromRecords(source.objects(), source.columnNames());
  if (isFigureTable(source)) {
    const { columns } = source;
    return {
      columns: [...columns],
      rows: source.rows.map((row, at) => row.map((cell, column) => asCell(cell, columns[column] ?? "", at))),
    };
  }
  if ("table" in source) return asFigureTable(source.table);
  throw noTable();
}

function noTable(): Error {
  return notebookError(
    "page.table was given something that is no table. Expected columns and rows, an Arquero table such as trial.table(), an array of records, or the result of recipes(…).",
  );
}

function fromRecords(records: readonly object[], names?: readonly string[]): FigureTable {
  const columns = names ?? [...new Set(records.flatMap((record) => Object.keys(record)))];
  const rows = records.map((record, at) =>
    columns.map((column) => asCell((record as Readonly<Record<string, unknown>>)[column], column, at)),
  );
  return { columns: [...columns], rows };
}

function asCell(value: unknown, column: string, row: number): Cell {
  if (value === null || value === undefined) return null;
  if (typeof value === "string") return value;
  if (typeof value === "number") return Number.isFinite(value) ? value : null;
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "bigint") return value.toString();
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? null : value.toISOString();
  if (typeof value === "object") {
    if ("text" in value && typeof value.text === "string") return value.text;
    if (
      "value" in value &&
      "unit" in value &&
      typeof value.value === "number" &&
      typeof value.unit === "string"
    ) {
      return `${value.value} ${value.unit}`.trim();
    }
    if (Array.isArray(value)) return value.map((each: unknown) => asCell(each, column, row) ?? "").join(", ");
  }
  throw notebookError(
    `page.table: column "${column}", row ${row + 1} holds ${typeof value === "object" ? "an object" : `a ${typeof value}`}. Expected text, a number, a quantity, a date, true or false; name the field of it that should be shown.`,
  );
}

function isColumnTable(source: object): source is ColumnTableLike {
  return "columnNames" in source && typeof source.columnNames === "function" && "objects" in source;
}

function isFigureTable(source: object): source is FigureTable {
  return (
    "columns" in source && Array.isArray(source.columns) && "rows" in source && Array.isArray(source.rows)
  );
}
