import { parseNumber } from "../units/index.ts";
import type { Setting } from "../trial/index.ts";
import { listed, modelError } from "./error.ts";
import type { Observation, Observations, ObservedFactor } from "./observations.ts";
import { averagedNote, mean, settingsKey } from "./observe.ts";
import { repeatScatter } from "./repeat-scatter.ts";
import type { PlacedReading } from "./repeat-scatter.ts";

/** A column of a file: header without its unit, unit, and one cell a line (text as written, or a number). */
export interface TableColumn {
  readonly name: string;
  readonly unit: string;
  readonly values: readonly (string | number | null)[];
}

/** Which columns are what. */
export interface ObserveTableOptions {
  readonly response: string;
  readonly factors: readonly string[];
  /** Column whose values name the blocks. Default: no blocks. */
  readonly block?: string;
  /** Factors whose numbers are names, such as tool 302 and tool 416. Default: columns with text in them. */
  readonly categories?: readonly string[];
  /** True averages logarithms where a run was read several times. Default false. */
  readonly log?: boolean;
}

/** How far beyond ±1 a column may reach and still be taken as coded: axial points lie beyond the corners. */
const codedReach = 4;

/**
 * Observations from a table, such as a CSV file. Each line is a run, unless a column named `run` gives several lines to one run: then lines
 * of one run at the same settings (and block) are repeats and are averaged, and `notes` says so. Columns `spot` and `repeat` place
 * readings on the surface.
 *
 * A factor is a quantity where all its cells are numbers, else a category with levels in the order of the file. The coded ends of a
 * quantity are its lowest and highest setting; a column that is coded already (unit "coded", or without a unit and symmetric about
 * zero with −1 and +1 in it) keeps its coding. Lines without a response are left out, and `notes` says so.
 * Refused: unknown columns, cells that are no numbers where numbers are needed (named with their line), a table without a usable line.
 * Example: columns feed 0.1, 0.2 and Ra 0.5, 0.9 give two rows and the factor feed from 0.1 to 0.2.
 */
export function observeTable(
  table: { readonly columns: readonly TableColumn[] },
  options: ObserveTableOptions,
): Observations {
  const { response, factors, block, categories = [], log = false } = options;
  if (new Set(factors).size < factors.length)
    throw modelError(`factors ${listed(factors)}`, "each factor once");
  if (factors.includes(response)) throw modelError(`${response} as response and factor`, "one or the other");
  for (const name of categories)
    if (!factors.includes(name)) throw modelError(`the category "${name}"`, "one of the factors");
  if (block !== undefined && factors.includes(block))
    throw modelError(`${block} as block and factor`, "one or the other");
  const column = (name: string): TableColumn => columnNamed(table.columns, name);
  const readings = column(response).values.map((cell, i) => numberIn(cell, response, i));
  const lines = readings.flatMap((value, i) => (value === null ? [] : [{ line: i, value }]));
  if (lines.length === 0) throw modelError(`no reading of ${response}`, "at least one line with a number");
  const observed = factors.map((name) => observedFactor(column(name), lines, categories.includes(name)));
  const settings = lines.map(({ line }) =>
    Object.fromEntries(
      observed.map((factor, k) => [factor.name, settingIn(column(factors[k]), factor, line)]),
    ),
  );
  const blockNames =
    block === undefined ? [] : distinct(lines.map(({ line }) => textIn(column(block), line)));
  const blocks = lines.map(({ line }) =>
    block === undefined ? 1 : blockNames.indexOf(textIn(column(block), line)) + 1,
  );

  const runs = optional(table.columns, "run", [response, ...factors, block]);
  const spots = optional(table.columns, "spot", [response, ...factors, block]);
  const sets = new Map<string, number[]>();
  lines.forEach(({ line }, i) => {
    const key = runs === null ? String(i) : `${textIn(runs, line)} ${settingsKey(settings[i], blocks[i])}`;
    const set = sets.get(key);
    if (set === undefined) sets.set(key, [i]);
    else set.push(i);
  });
  const placed: PlacedReading[] = [];
  const rows: Observation[] = [];
  for (const set of sets.values()) {
    const single = set.map((i) => lines[i].value);
    const first = lines[set[0]].line;
    const scaled = log ? single.map((value, k) => logarithm(value, response, lines[set[k]].line)) : single;
    const group = settingsKey(settings[set[0]], blocks[set[0]]);
    set.forEach((i, k) =>
      placed.push({
        group,
        run: first,
        spot: spots === null ? 1 : spotOf(spots, lines[i].line),
        value: scaled[k],
      }),
    );
    const [settingsOfSet, blockOfSet] = [settings[set[0]], blocks[set[0]]];
    rows.push({
      run: first + 1,
      order: rows.length + 1,
      block: blockOfSet,
      settings: settingsOfSet,
      value: mean(scaled),
      readings: set.length,
      single,
    });
  }
  return {
    response: { name: response, unit: column(response).unit },
    factors: observed,
    rows,
    repeats: repeatScatter(placed, { logScale: log }),
    logScale: log,
    notes: [...averagedNote(rows), ...leftOut(readings, response), ...splitRuns(runs, rows, lines)],
    ...(block === undefined ? {} : { blocks: { name: block, levels: blockNames } }),
  };
}

function columnNamed(columns: readonly TableColumn[], name: string): TableColumn {
  const found = columns.find((column) => column.name === name);
  if (found !== undefined) return found;
  throw modelError(
    `the unknown column "${name}"`,
    `one of ${listed(
      columns.map((column) => column.name),
      "or",
    )}`,
  );
}

/** A column by its name, unless it already serves as something else. */
function optional(
  columns: readonly TableColumn[],
  name: string,
  taken: readonly (string | undefined)[],
): TableColumn | null {
  return taken.includes(name) ? null : (columns.find((column) => column.name === name) ?? null);
}

function observedFactor(
  { name, unit, values }: TableColumn,
  lines: readonly { readonly line: number }[],
  named: boolean,
): ObservedFactor {
  const cells = lines.map(({ line }) => values[line] ?? null);
  const empty = cells.findIndex((cell) => cell === null || String(cell).trim() === "");
  if (empty >= 0) {
    throw modelError(
      `line ${lines[empty].line + 2}: no setting of ${name}`,
      "a setting on every line that has a reading",
      "Fill the cell, or empty the reading.",
    );
  }
  const numbers = cells.map((cell) => number(cell));
  if (named || numbers.some((value) => value === null)) {
    return {
      name,
      kind: "category",
      unit: "",
      levels: distinct(cells.map((cell) => String(cell).trim())),
      low: -1,
      high: 1,
      scale: "linear",
    };
  }
  const settings = numbers.map(Number);
  const low = settings.reduce((least, value) => Math.min(least, value));
  const high = settings.reduce((most, value) => Math.max(most, value));
  const coded = unit === "coded" || (unit === "" && alreadyCoded(settings, low, high));
  return {
    name,
    kind: "quantity",
    unit,
    levels: [],
    low: coded ? -1 : low,
    high: coded ? 1 : high,
    scale: "linear",
  };
}

function alreadyCoded(settings: readonly number[], low: number, high: number): boolean {
  return low === -high && high < codedReach && settings.includes(-1) && settings.includes(1);
}

function settingIn({ values }: TableColumn, factor: ObservedFactor, line: number): Setting {
  return factor.kind === "category" ? String(values[line]).trim() : number(values[line] ?? null)!;
}

function textIn({ name, values }: TableColumn, line: number): string {
  const text = String(values[line] ?? "").trim();
  if (text === "")
    throw modelError(`line ${line + 2}: no ${name}`, "a name or number on every line that has a reading");
  return text;
}

function numberIn(cell: string | number | null, name: string, line: number): number | null {
  if (cell === null || (typeof cell === "string" && cell.trim() === "")) return null;
  const value = number(cell);
  if (value !== null) return value;
  throw modelError(`line ${line + 2}: ${name} "${cell}"`, "a number, or an empty cell");
}

function number(cell: string | number | null): number | null {
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

function spotOf(column: TableColumn, line: number): number {
  const value = number(column.values[line] ?? null);
  if (value !== null) return value;
  throw modelError(`line ${line + 2}: spot "${column.values[line] ?? ""}"`, "a number");
}

function logarithm(value: number, response: string, line: number): number {
  if (value > 0) return Math.log(value);
  throw modelError(
    `line ${line + 2}: ${response} ${value}, of which there is no logarithm`,
    "values above zero",
    "Fit without the logarithm.",
  );
}

function leftOut(readings: readonly (number | null)[], response: string): readonly string[] {
  const empty = readings.filter((value) => value === null).length;
  return empty === 0 ? [] : [`${empty} of ${readings.length} lines have no ${response} and were left out.`];
}

/** Says so where lines of one run stand at several settings, which makes them runs of their own. */
function splitRuns(
  runs: TableColumn | null,
  rows: readonly Observation[],
  lines: readonly { readonly line: number }[],
): readonly string[] {
  if (runs === null) return [];
  const named = new Set(lines.map(({ line }) => textIn(runs, line))).size;
  return named === rows.length
    ? []
    : [`${named} run names cover ${rows.length} settings: lines were averaged within one run and setting.`];
}

function distinct(values: readonly string[]): readonly string[] {
  return [...new Set(values)];
}
