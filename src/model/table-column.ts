import { parseNumber, listed } from "../units/index.ts";
import type { Setting } from "../trial/index.ts";
import { modelError } from "./error.ts";
import type { ObservedFactor } from "./observations.ts";

type Cell = string | number | null;

/** A column of a file: header without its unit, unit, and one cell a line (text as written, or a number). */
export interface TableColumn {
  readonly name: string;
  readonly unit: string;
  readonly values: readonly Cell[];
}

/** A factor with its setting on each line that is used. */
export interface FactorColumn {
  readonly factor: ObservedFactor;
  readonly settings: readonly Setting[];
}

/** How far beyond ±1 a column may reach and still be taken as coded: axial points lie beyond the corners. */
const codedReach = 4;

export function columnNamed(columns: readonly TableColumn[], name: string): TableColumn {
  const found = columns.find((column) => column.name === name);
  if (found !== undefined) return found;
  const names = columns.map((column) => column.name);
  throw modelError(`the unknown column "${name}"`, `one of ${listed(names, "or")}`);
}

/** A column by its name, unless it already serves as something else. */
export function optionalColumn(
  columns: readonly TableColumn[],
  name: string,
  taken: readonly (string | undefined)[],
): TableColumn | null {
  return taken.includes(name) ? null : (columns.find((column) => column.name === name) ?? null);
}

/** A column as a factor: a quantity where every cell on these lines is a number, unless its numbers are called names. */
export function factorColumn(column: TableColumn, lines: readonly number[], named: boolean): FactorColumn {
  const { name, unit, values } = column;
  const cells = lines.map((line) => values[line] ?? null);
  const empty = cells.findIndex((cell) => cell === null || (typeof cell === "string" && cell.trim() === ""));
  if (empty >= 0) {
    throw modelError(
      `line ${lines[empty] + 2}: no setting of ${name}`,
      "a setting on every line that has a reading",
      "Fill the cell, or empty the reading.",
    );
  }
  const numbers = named ? [] : cells.map(numberOf);
  if (named || numbers.includes(null)) {
    const settings = cells.map((cell) => String(cell).trim());
    const levels = [...new Set(settings)];
    return {
      factor: { name, kind: "category", unit: "", levels, low: -1, high: 1, scale: "linear" },
      settings,
    };
  }
  const settings = numbers as readonly number[]; // none is null
  const low = settings.reduce((least, value) => Math.min(least, value));
  const high = settings.reduce((most, value) => Math.max(most, value));
  const coded = unit === "coded" || (unit === "" && alreadyCoded(settings, low, high));
  const [from, to] = coded ? [-1, 1] : [low, high];
  return {
    factor: { name, kind: "quantity", unit, levels: [], low: from, high: to, scale: "linear" },
    settings,
  };
}

function alreadyCoded(settings: readonly number[], low: number, high: number): boolean {
  return low === -high && high < codedReach && settings.includes(-1) && settings.includes(1);
}

/** The text of a cell that must not be empty. */
export function textIn({ name, values }: TableColumn, line: number): string {
  const text = String(values[line] ?? "").trim();
  if (text === "")
    throw modelError(`line ${line + 2}: no ${name}`, "a name or number on every line that has a reading");
  return text;
}

/** The number in a cell; null where the cell is empty. Refuses words, by line. */
export function numberIn({ name, values }: TableColumn, line: number): number | null {
  const cell = values[line] ?? null;
  if (cell === null || (typeof cell === "string" && cell.trim() === "")) return null;
  const value = numberOf(cell);
  if (value !== null) return value;
  throw modelError(`line ${line + 2}: ${name} "${cell}"`, "a number, or an empty cell");
}

/** A cell as a number, decimal point or comma; null for what is none. */
export function numberOf(cell: Cell): number | null {
  if (cell === null) return null;
  if (typeof cell === "number") return Number.isFinite(cell) ? cell : null;
  const plain = cell.trim();
  // The plain road first: a file of thousands of readings is read without looking at every way to write a number.
  const direct = plain === "" ? NaN : Number(plain);
  if (Number.isFinite(direct)) return direct;
  try {
    return parseNumber(plain);
  } catch {
    return null;
  }
}
