import { extent } from "../numerics/index.ts";
import { readTable, type DataTable, type TableColumn } from "../store/index.ts";
import { parseTrialSpec, type Factor, type Setting, type TrialSpec } from "../trial/index.ts";
import { convert, dimensionOf, listed, readUnit } from "../units/index.ts";
import { RefusedError } from "./error.ts";
import { namesOption, textOption } from "./option-values.ts";
import { readJson, readText } from "./read-file.ts";
import type { OptionValues, Terminal } from "./verb.ts";

/** What the person typed a plan with: the contents as they would stand in trial.json, and the same checked. */
export interface TypedSpec {
  readonly raw: unknown;
  readonly spec: TrialSpec;
}

/** Options of verbs that take runs from a table. */
export const runsTableOptions = { runs: { type: "string" }, factors: { type: "string" } } as const;

export const runsTableHelp = [
  "  --runs TABLE.csv   takes the runs of this table in place of the layout: one row a run, a column for each factor, its unit in",
  "                     brackets; `run` tells the order and `block` the block where they are given",
  "  --factors a,b      with a table alone (TABLE.csv in place of SPEC.json): which columns are factors; all unless given",
];

/** Columns of a plan that are no factor. */
const places = ["run", "standard", "block", "role"];

/** The spec in a JSON file, its layout replaced by a table of runs where one is named; or made from such a table alone. */
export async function typedSpec(
  file: string,
  options: OptionValues,
  terminal: Pick<Terminal, "folder">,
): Promise<TypedSpec> {
  const runs = textOption(options, "runs");
  if (/\.(csv|tsv|txt)$/i.test(file)) {
    if (runs !== undefined)
      throw new RefusedError(`--runs ${runs}: ${file} is a table of runs already. Give one of the two.`);
    return fromTable(readTable(await readText(file, terminal), { file }), namesOption(options, "factors"));
  }
  const raw = await readJson(file, terminal);
  if (runs === undefined) return { raw, spec: parseTrialSpec(raw, file) };
  const { factors } = parseTrialSpec(raw, file);
  const table = readTable(await readText(runs, terminal), { file: runs });
  const layout = givenLayout(table, factors);
  // It parsed as a spec, so it is an object.
  const withRuns = { ...(raw as object), layout };
  return { raw: withRuns, spec: parseTrialSpec(withRuns, file) };
}

function fromTable(table: DataTable, names: readonly string[] | undefined): TypedSpec {
  const columns = names
    ? names.map((name) => columnOf(table, name))
    : table.columns.filter(({ name }) => !places.includes(name.toLowerCase()));
  const moving = columns.filter((column) => new Set(column.texts.map((text) => text.trim())).size > 1);
  if (moving.length === 0) {
    throw new RefusedError(
      `${table.file}: no column changes from run to run, so there is no factor. Expected one row a run and a column for each factor.`,
    );
  }
  const factors = moving.map((column) => factorFrom(column, table));
  const raw = {
    factors,
    layout: givenLayout(table, parseTrialSpec({ factors, layout: { kind: "given" } }, table.file).factors),
  };
  return { raw, spec: parseTrialSpec(raw, table.file) };
}

function factorFrom({ name, unit, numbers, texts }: TableColumn, { file }: DataTable) {
  if (numbers === null)
    return { name, kind: "category", levels: [...new Set(texts.map((text) => text.trim()))] };
  const known = numbers.filter((value) => value !== null);
  if (known.length < numbers.length)
    throw new RefusedError(`${file}, ${name}: a cell is empty. Give every run a setting of every factor.`);
  const answer = unit === "" ? null : readUnit(unit);
  if (answer !== null && answer.kind !== "value")
    throw new RefusedError(`${file}, ${name}: got the unit "${unit}", which is not known. Mend the header.`);
  return {
    name,
    kind: "quantity",
    unit: answer?.value ?? "1",
    low: extent(known)[0],
    high: extent(known)[1],
  };
}

/** The runs of a table in their order, each with a setting for every factor in the factor's unit. */
function givenLayout(table: DataTable, factors: readonly Factor[]) {
  const order = orderOf(table);
  const columns = factors.map((factor) => settingsOf(columnOf(table, factor.name), factor, table));
  const blocks = table.columns.find(({ name }) => name.toLowerCase() === "block");
  return {
    kind: "given",
    runs: order.map((row) =>
      Object.fromEntries(factors.map(({ name }, place) => [name, columns[place]?.[row] ?? ""])),
    ),
    ...(blocks === undefined ? {} : { inBlock: blocksOf(blocks, order) }),
  };
}

function columnOf(table: DataTable, name: string): TableColumn {
  const found =
    table.columns.find((column) => column.name === name) ??
    table.columns.find((column) => column.name.toLowerCase() === name.toLowerCase());
  if (found !== undefined) return found;
  throw new RefusedError(
    `${table.file}: there is no column "${name}"; the columns are ${listed(table.columns.map((column) => column.name))}.`,
  );
}

function settingsOf(column: TableColumn, factor: Factor, { file, lines }: DataTable): readonly Setting[] {
  if (factor.kind === "category") return column.texts.map((text) => text.trim());
  const answer = column.unit === "" ? null : readUnit(column.unit);
  if (
    answer !== null &&
    (answer.kind !== "value" || dimensionOf(answer.value) !== dimensionOf(factor.unit))
  ) {
    throw new RefusedError(
      `${file}, ${factor.name}: got the unit "${column.unit}"; expected ${factor.unit}, or another unit of ${dimensionOf(factor.unit)}. Mend the header.`,
    );
  }
  const unit = answer?.value ?? factor.unit;
  return column.texts.map((text, row) => {
    const value = column.numbers?.[row];
    if (typeof value === "number") return unit === factor.unit ? value : convert(value, unit, factor.unit);
    throw new RefusedError(
      `${file} line ${lines[row]}, ${factor.name}: got ${text.trim() === "" ? "nothing" : `"${text.trim()}"`}; expected a number of ${unit}. Mend the cell.`,
    );
  });
}

/** By the column `run` where there is one, else as the rows stand. */
function orderOf(table: DataTable): readonly number[] {
  const rows = Array.from({ length: table.rows }, (_, row) => row);
  const numbers = table.columns.find(({ name }) => name.toLowerCase() === "run")?.numbers;
  return numbers ? rows.sort((one, other) => (numbers[one] ?? 0) - (numbers[other] ?? 0)) : rows;
}

/** Blocks by number, or by name in the order in which they are cut. */
function blocksOf({ numbers, texts }: TableColumn, order: readonly number[]): readonly number[] {
  const whole = numbers?.every((value) => value !== null && Number.isInteger(value) && value >= 1) ?? false;
  const names = [...new Set(order.map((row) => texts[row]?.trim() ?? ""))];
  return order.map((row) => (whole ? (numbers?.[row] ?? 1) : names.indexOf(texts[row]?.trim() ?? "") + 1));
}
