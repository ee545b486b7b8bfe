import type { Run, Setting } from "../trial/index.ts";
import { quoted } from "./error.ts";
import { sameName } from "./import-columns.ts";
import type { Findings } from "./import-table.ts";
import { choice } from "./question.ts";
import type { DataTable, TableColumn } from "./read-table.ts";
import type { RoledColumn } from "./table-columns.ts";

/** The runs that a table speaks of, and which of them each row belongs to. */
export interface TableRuns {
  readonly runs: readonly Run[];
  readonly rowRuns: readonly number[];
  /** In words, for the preview. */
  readonly told: string;
}

/**
 * Tells the surfaces of a table apart: by the columns that are named for it, else by the run column; without either, rows
 * with equal settings are asked about: repeats on one surface, or fresh runs. Each distinct surface becomes a run, numbered
 * in the order in which it first appears, or as the run column numbers it where that does.
 */
export function tableRuns(
  table: DataTable,
  columns: readonly RoledColumn[],
  surface: readonly string[],
  found: Findings,
): TableRuns | null {
  const factors = columns.filter(({ role }) => role === "quantity" || role === "category");
  const runColumn = columns.find(({ role }) => role === "run")?.column ?? null;
  const keyColumns =
    surface.length > 0 ? surfaceColumns(table, surface, found) : runColumn === null ? null : [runColumn];
  if (keyColumns === null) return runsBySettings(table, columns, factors, found);
  const keys = keysOf(table, keyColumns);
  const mixed = factors.filter(({ column }) => !isConstantWithin(column, keys));
  if (mixed.length > 0) {
    const names = mixed.map(({ column }) => column.name);
    const together = [...keyColumns.map((column) => column.name), ...names];
    const answer = found.ask({
      id: "surface",
      kind: "column",
      text: `Rows with the same ${keyColumns.map((column) => column.name).join(" and ")} have different settings of ${names.join(", ")}. Do ${together.join(", ")} together name one surface?`,
      line: null,
      run: null,
      field: keyColumns[0].name,
      choices: [choice("together", `Yes: each ${together.join(" × ")} is a surface of its own`)],
    });
    return answer === null ? null : tableRuns(table, columns, together, found);
  }
  const names = keyColumns.map((column) => column.name).join(" × ");
  const numbered =
    keyColumns.length === 1 && keyColumns[0] === runColumn ? ownNumbers(runColumn, keys) : null;
  return made(table, columns, factors, keys, numbered, `each ${names} is a surface of its own`, found);
}

function surfaceColumns(
  table: DataTable,
  surface: readonly string[],
  found: Findings,
): readonly TableColumn[] {
  return surface.flatMap((name) => {
    const column = table.columns.find((one) => sameName(one.name, name));
    if (column === undefined)
      found.problem(`the surface is to be told by ${quoted(name)}, which the file does not have.`);
    return column === undefined ? [] : [column];
  });
}

function keysOf(table: DataTable, columns: readonly TableColumn[]): readonly string[] {
  return table.lines.map((_, row) => columns.map((column) => cellKey(column, row)).join("\u0000"));
}

/** 0.10 and 0.1 are one setting. */
function cellKey(column: TableColumn, row: number): string {
  return column.numbers === null ? column.texts[row].trim() : String(column.numbers[row]);
}

function isConstantWithin(column: TableColumn, keys: readonly string[]): boolean {
  const first = new Map<string, string>();
  return keys.every((key, row) => {
    const cell = cellKey(column, row);
    const before = first.get(key);
    first.set(key, before ?? cell);
    return before === undefined || before === cell;
  });
}

/** The numbers of the run column, where they are 1 to n: then they are the cutting order. */
function ownNumbers(column: TableColumn, keys: readonly string[]): ReadonlyMap<string, number> | null {
  const numbers = new Map(keys.map((key, row) => [key, column.numbers?.[row] ?? Number.NaN]));
  const sorted = [...numbers.values()].sort((a, b) => a - b);
  return sorted.every((number, index) => number === index + 1) ? numbers : null;
}

function runsBySettings(
  table: DataTable,
  columns: readonly RoledColumn[],
  factors: readonly RoledColumn[],
  found: Findings,
): TableRuns | null {
  const keys = keysOf(
    table,
    factors.map(({ column }) => column),
  );
  const counts = new Map<string, number>();
  keys.forEach((key) => counts.set(key, (counts.get(key) ?? 0) + 1));
  if (counts.size === keys.length)
    return made(table, columns, factors, keys, null, "each row is a run", found);
  const several = keys.findIndex((key) => (counts.get(key) ?? 0) > 1);
  const lines = table.lines.filter((_, row) => keys[row] === keys[several]).slice(0, 4);
  const answer = found.ask({
    id: "rows",
    kind: "repeat-or-replicate",
    text: `Lines ${lines.join(", ")}${(counts.get(keys[several]) ?? 0) > 4 ? ", …" : ""} have the same settings, and the file has no run column. Are they readings of one surface (repeats), or was each cut afresh (replicates)?`,
    line: lines[0],
    run: null,
    field: "run",
    choices: [
      choice("repeats", "Readings of one surface: repeats"),
      choice("replicates", "Each row was cut afresh: replicates"),
    ],
  });
  if (answer === null) return null;
  if (answer === "repeats")
    return made(
      table,
      columns,
      factors,
      keys,
      null,
      "rows with the same settings are readings of one surface",
      found,
    );
  const rows = keys.map((_, row) => String(row));
  return made(table, columns, factors, rows, null, "each row is a run, cut afresh", found);
}

function made(
  table: DataTable,
  columns: readonly RoledColumn[],
  factors: readonly RoledColumn[],
  keys: readonly string[],
  numbers: ReadonlyMap<string, number> | null,
  told: string,
  found: Findings,
): TableRuns {
  const firstRow = new Map<string, number>();
  keys.forEach((key, row) => {
    if (!firstRow.has(key)) firstRow.set(key, row);
  });
  const block = columns.find(({ role }) => role === "block")?.column ?? null;
  const blocks = block === null ? [] : [...new Set(block.texts.map((text) => text.trim()))];
  if (block !== null && !isConstantWithin(block, keys))
    found.problem(`one surface stands in two blocks of ${quoted(block.header)}.`, { column: block.name });
  const unordered = [...firstRow].map(([key, row], index): Run => {
    const run = numbers?.get(key) ?? index + 1;
    const settings = Object.fromEntries(
      factors.map(({ column, role }) => [
        column.name,
        settingAt(table, column, role === "quantity", row, found),
      ]),
    );
    const inBlock = block === null ? 1 : blocks.indexOf(block.texts[row].trim()) + 1;
    return { run, standard: run, block: inBlock, role: "given", settings };
  });
  const runOf = new Map([...firstRow.keys()].map((key, index) => [key, unordered[index].run]));
  return {
    runs: [...unordered].sort((a, b) => a.run - b.run),
    rowRuns: keys.map((key) => runOf.get(key) ?? 0),
    told,
  };
}

function settingAt(
  table: DataTable,
  column: TableColumn,
  isQuantity: boolean,
  row: number,
  found: Findings,
): Setting {
  const setting = isQuantity ? (column.numbers?.[row] ?? null) : column.texts[row].trim();
  if (setting !== null && setting !== "") return setting;
  const line = table.lines[row];
  found.problem(
    `line ${line}: the setting of ${column.name} is ${isQuantity && column.texts[row].trim() !== "" ? "no number" : "missing"}.`,
    { line, column: column.name },
  );
  return isQuantity ? 0 : "";
}
