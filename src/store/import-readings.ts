import { dimensionOf } from "../units/index.ts";
import type { Response, Trial } from "../trial/index.ts";
import { quoted, StoreError } from "./error.ts";
import { columnFor, type ImportColumn } from "./import-columns.ts";
import { askUnit } from "./import-runs.ts";
import { cellNumber, columnUnit, spotsOf, type Findings } from "./import-table.ts";
import { knownUnit } from "./number-field.ts";
import type { NewReading } from "./record.ts";
import type { DataTable } from "./read-table.ts";
import { timeInCell, unknownResponse } from "./readings-file.ts";

/** A reading of the file, with the line it stands on. */
export interface FileReading extends NewReading {
  readonly line: number;
  readonly text?: string;
}

/** A unit of the file that is not the response's own. */
export interface Conversion {
  readonly column: string;
  readonly from: string;
  readonly to: string;
  readonly text: string;
}

interface ValueCell {
  readonly response: Response;
  readonly value: number;
  readonly unit: string;
  readonly text?: string;
}

/**
 * The readings of a file's rows: one for each filled cell of a response's column, or, in a file with a column of response
 * names, one a row. Rows of one run are readings of one surface: repeats, counted on at their spot in the order of the
 * file, or of its repeat column, which is the order in which they are returned.
 */
export function fileReadings(
  table: DataTable,
  columns: readonly ImportColumn[],
  runs: readonly (number | null)[],
  trial: Trial,
  found: Findings,
): { readonly readings: readonly FileReading[]; readonly conversions: readonly Conversion[] } {
  const { cellsOf, conversions } = valueCells(table, columns, trial, found);
  const spots = spotsOf(columnFor(columns, "spot"));
  const repeat = columnFor(columns, "repeat");
  const notes = columns.filter(({ meaning }) => meaning === "note").map(({ column }) => column);
  const [taken, reason] = [columnFor(columns, "taken"), columnFor(columns, "void")];
  const order = table.lines.map((_, row) => row);
  if (repeat?.numbers) order.sort((a, b) => (repeat.numbers?.[a] ?? 0) - (repeat.numbers?.[b] ?? 0) || a - b);
  const readings = order.flatMap((row): readonly FileReading[] => {
    const run = runs[row];
    const line = table.lines[row];
    const note = [spots.name(row), ...notes.map((column) => column.texts[row].trim())]
      .filter((part) => part !== "")
      .join("; ");
    const time = taken === null ? "" : timeOf(taken.texts[row], table.file, line, found);
    return cellsOf(row).flatMap(({ response, value, unit, text }) =>
      run === null
        ? []
        : [
            {
              run,
              response: response.name,
              value,
              unit,
              spot: spots.number(row),
              taken: time,
              note,
              void: reason?.texts[row].trim() ?? "",
              line,
              ...(text === undefined ? {} : { text }),
            },
          ],
    );
  });
  return { readings, conversions };
}

function timeOf(text: string, file: string, line: number, found: Findings): string {
  try {
    return timeInCell(text, { file, line, field: "taken" });
  } catch (cause) {
    if (!(cause instanceof StoreError)) throw cause;
    found.problem(cause.message, { line, column: "taken" });
    return "";
  }
}

/** How to get at the values of a row, in the wide form or in the long one. */
function valueCells(
  table: DataTable,
  columns: readonly ImportColumn[],
  { spec }: Trial,
  found: Findings,
): { readonly cellsOf: (row: number) => readonly ValueCell[]; readonly conversions: readonly Conversion[] } {
  const value = columnFor(columns, "value");
  if (value !== null) return { cellsOf: longCells(table, columns, spec.responses, found), conversions: [] };
  const wide = spec.responses.flatMap((response) =>
    columns.filter(({ meaning }) => meaning === response.name).map(({ column }) => ({ response, column })),
  );
  if (wide.length === 0) {
    const names = spec.responses.map(({ name }) => name).join(", ");
    found.problem(
      `no column holds readings; expected one for ${names}, or the columns response, value and unit. Map a column to a response.`,
    );
  }
  const read = wide.flatMap(({ response, column }) => {
    const unit = columnUnit(column) ?? askUnit(column, response.unit, found);
    if (unit === null) return [];
    if (dimensionOf(unit) === dimensionOf(response.unit)) return [{ response, column, unit }];
    found.problem(
      `${quoted(column.header)}: ${unit} measures ${dimensionOf(unit)}; ${response.name} is a ${dimensionOf(response.unit)} in ${response.unit}.`,
      { column: column.name },
    );
    return [];
  });
  const conversions = read
    .filter(({ unit, response }) => unit !== response.unit)
    .map(({ response, column, unit }) => ({
      column: column.name,
      from: unit,
      to: response.unit,
      text: `${column.header}: kept in ${unit} as typed, and converted exactly to ${response.unit} for analysis`,
    }));
  const cellsOf = (row: number): readonly ValueCell[] =>
    read.flatMap(({ response, column, unit }) => {
      const typed = cellNumber(table, column, row, unit, found);
      return typed === null ? [] : [{ response, ...typed }];
    });
  return { cellsOf, conversions };
}

function longCells(
  table: DataTable,
  columns: readonly ImportColumn[],
  responses: readonly Response[],
  found: Findings,
): (row: number) => readonly ValueCell[] {
  const [names, values, units] = ["response", "value", "unit"].map((word) => columnFor(columns, word));
  const single = responses.length === 1 ? responses[0] : null;
  return (row) => {
    const line = table.lines[row];
    const name = names?.texts[row].trim() ?? single?.name ?? "";
    const response = responses.find((one) => one.name === name);
    if (response === undefined) {
      found.problem(
        unknownResponse(
          name,
          responses.map((one) => one.name),
          { file: table.file, line },
        ).message,
        { line, column: "response" },
      );
      return [];
    }
    if (values === null) return [];
    const unitText = units?.texts[row].trim() ?? values.unit;
    try {
      const unit =
        unitText === ""
          ? askUnit(values, response.unit, found)
          : knownUnit(unitText, response.unit, { file: table.file, line });
      const typed = unit === null ? null : cellNumber(table, values, row, unit, found);
      return typed === null ? [] : [{ response, ...typed }];
    } catch (cause) {
      if (!(cause instanceof StoreError)) throw cause;
      found.problem(cause.message, { line, column: "unit" });
      return [];
    }
  };
}
