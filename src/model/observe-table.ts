import { listed } from "../units/index.ts";
import type { Settings } from "../trial/index.ts";
import { modelError } from "./error.ts";
import type { Observation, Observations } from "./observations.ts";
import { averagedNote, mean, settingsKey } from "./observe.ts";
import { repeatScatter } from "./repeat-scatter.ts";
import type { PlacedReading } from "./repeat-scatter.ts";
import { columnNamed, factorColumn, numberIn, numberOf, optionalColumn, textIn } from "./table-column.ts";
import type { TableColumn } from "./table-column.ts";
import { observedSource, tableSources } from "./table-sources.ts";
import type { RandomColumns } from "./table-sources.ts";

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
  /**
   * Columns whose values name the levels of a random source (several joined: each combination of theirs), for a mixed fit. With `run` among them the readings
   * of a run are rows of their own. Default: none.
   */
  readonly random?: readonly RandomColumns[];
}

/** One line that has a reading. */
interface Line {
  readonly line: number;
  readonly value: number;
  readonly settings: Settings;
  readonly block: number;
}

/**
 * Observations from a table, such as a CSV file. Each line is a run, unless a column named `run` gives several lines to one run: then lines
 * of one run at the same settings (and block) are repeats and are averaged, and `notes` says so. A column `spot` places readings on the
 * surface.
 *
 * A factor is a quantity where all its cells are numbers, else a category with levels in the order of the file. The coded ends of a
 * quantity are its lowest and highest setting; a column that is coded already (unit "coded", or without a unit and symmetric about
 * zero with −1 and +1 in it) keeps its coding. Lines without a response are left out, and `notes` says so. Rows are called by their number
 * in the column `run` where that is a whole number of its own, else by their line.
 * Refused: unknown columns, cells that are no numbers where numbers are needed (named with their line), a table without a usable line.
 * Example: columns feed 0.1, 0.2 and Ra 0.5, 0.9 give two rows and the factor feed from 0.1 to 0.2.
 */
export function observeTable(
  table: { readonly columns: readonly TableColumn[] },
  options: ObserveTableOptions,
): Observations {
  const { response, factors, block, log = false } = options;
  checkNames(options);
  const read = columnNamed(table.columns, response);
  const readings = Array.from(read.values, (_, line) => numberIn(read, line));
  const used = readings.flatMap((value, line) => (value === null ? [] : [line]));
  if (used.length === 0) throw modelError(`no reading of ${response}`, "at least one line with a number");
  const observed = factors.map((name) =>
    factorColumn(columnNamed(table.columns, name), used, options.categories?.includes(name) ?? false),
  );
  const blockColumn = block === undefined ? null : columnNamed(table.columns, block);
  const blockOf = blockColumn === null ? null : used.map((line) => textIn(blockColumn, line));
  const blockNames = [...new Set(blockOf ?? [])];
  const lines = used.map((line, i): Line => ({
    line,
    value: readings[line]!,
    settings: Object.fromEntries(observed.map(({ factor, settings }) => [factor.name, settings[i]])),
    block: blockOf === null ? 1 : blockNames.indexOf(blockOf[i]) + 1,
  }));

  const taken = [response, ...factors, block];
  const runs = optionalColumn(table.columns, "run", taken);
  const spots = optionalColumn(table.columns, "spot", taken);
  const sources = tableSources(table.columns, options.random ?? []);
  const single = sources.some(({ columns }) => columns.length === 1 && columns[0] === "run");
  const sets =
    runs === null || single
      ? lines.map((line) => [line])
      : setsOfRuns(lines, runs, (line) => sources.map(({ levelAt }) => levelAt(line.line)));
  const scaled = (line: Line): number => (log ? logarithm(line, response) : line.value);
  const nameOf = runNames(runs, sets);
  const rows = sets.map((set, k): Observation => ({
    run: nameOf(set[0]),
    order: k + 1,
    block: set[0].block,
    settings: set[0].settings,
    value: mean(set.map(scaled)),
    readings: set.length,
    single: set.map(({ value }) => value),
  }));
  const repeated = rows.length < lines.length;
  return {
    response: { name: response, unit: read.unit },
    factors: observed.map(({ factor }) => factor),
    rows,
    repeats: repeated ? repeatScatter(placedReadings(sets, spots, scaled), { logScale: log }) : null,
    logScale: log,
    notes: [...averagedNote(rows), ...leftOut(readings, response), ...(single ? [] : splitRuns(runs, sets))],
    ...(block === undefined ? {} : { blocks: { name: block, levels: blockNames } }),
    ...(sources.length === 0
      ? {}
      : {
          sources: sources.map((source) =>
            observedSource(
              source,
              sets.map(([first]) => first.line),
            ),
          ),
        }),
  };
}

function checkNames({ response, factors, block, categories = [] }: ObserveTableOptions): void {
  if (new Set(factors).size < factors.length)
    throw modelError(`factors ${listed(factors)}`, "each factor once");
  if (factors.includes(response)) throw modelError(`${response} as response and factor`, "one or the other");
  if (block !== undefined && factors.includes(block))
    throw modelError(`${block} as block and factor`, "one or the other");
  for (const name of categories)
    if (!factors.includes(name)) throw modelError(`the category "${name}"`, "one of the factors");
}

/** Lines of one run at the same settings, block and levels of random sources, in the order of the file. */
function setsOfRuns(
  lines: readonly Line[],
  runs: TableColumn,
  sourcesAt: (line: Line) => readonly string[],
): readonly (readonly Line[])[] {
  const sets = new Map<string, Line[]>();
  for (const line of lines) {
    const sources = JSON.stringify(sourcesAt(line));
    const key = `${textIn(runs, line.line)} ${settingsKey(line.settings, line.block)} ${sources}`;
    const set = sets.get(key);
    if (set === undefined) sets.set(key, [line]);
    else set.push(line);
  }
  return [...sets.values()];
}

/** The number that a row is called by: that of its run, where each row has a whole one of its own, else its line. */
function runNames(runs: TableColumn | null, sets: readonly (readonly Line[])[]): (line: Line) => number {
  const byLine = ({ line }: Line): number => line + 1;
  if (runs === null) return byLine;
  const numbers = sets.map(([first]) => numberOf(runs.values[first.line] ?? null));
  const whole = numbers.every((value) => value !== null && Number.isInteger(value) && value > 0);
  if (!whole || new Set(numbers).size < sets.length) return byLine;
  return ({ line }) => numberOf(runs.values[line] ?? null)!;
}

function placedReadings(
  sets: readonly (readonly Line[])[],
  spots: TableColumn | null,
  scaled: (line: Line) => number,
): readonly PlacedReading[] {
  return sets.flatMap((set, run) => {
    const group = settingsKey(set[0].settings, set[0].block);
    return set.map((line) => ({
      group,
      run,
      spot: spots === null ? 1 : spotOf(spots, line.line),
      value: scaled(line),
    }));
  });
}

function spotOf(spots: TableColumn, line: number): number {
  const value = numberOf(spots.values[line] ?? null);
  if (value !== null) return value;
  throw modelError(`line ${line + 2}: spot "${spots.values[line] ?? ""}"`, "a number");
}

function logarithm({ line, value }: Line, response: string): number {
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
function splitRuns(runs: TableColumn | null, sets: readonly (readonly Line[])[]): readonly string[] {
  if (runs === null) return [];
  const named = new Set(sets.map(([first]) => textIn(runs, first.line))).size;
  return named === sets.length
    ? []
    : [`${named} run names cover ${sets.length} settings: lines were averaged within one run and setting.`];
}
