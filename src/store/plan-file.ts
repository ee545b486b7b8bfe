import {
  whyNotASetting,
  type Factor,
  type Run,
  type RunRole,
  type Setting,
  type TrialSpec,
} from "../trial/index.ts";
import { readUnit, dimensionOf, type UnitName } from "../units/index.ts";
import { namedColumns, wholeNumber, type NamedColumns } from "./columns.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import { quoted, storeError, type Place } from "./error.ts";
import { headerText } from "./header.ts";
import { numberInOwnCell } from "./number-cell.ts";
import { inUnitOf, kept } from "./number-field.ts";
import type { DataTable, TableColumn } from "./read-table.ts";
import { typedCell } from "./typed-text.ts";
import { writeCsv } from "./write-csv.ts";

export const planFile = "plan.csv";

const roles: readonly RunRole[] = [
  "corner",
  "level",
  "centre",
  "axial",
  "edge",
  "anchor",
  "given",
  "added",
  "proof",
];

/** A plan has it where a factor is hard to change: runs of one number share one set-up. */
const wholePlotColumn = "whole plot";

/** The text of plan.csv: one row a run in cutting order. */
export function formatPlan(
  { factors }: Pick<TrialSpec, "factors">,
  runs: readonly Run[],
  dialect: Dialect = plainDialect,
): string {
  return writeCsv(
    [
      { header: "run", cells: runs.map((run) => run.run) },
      { header: "standard", cells: runs.map((run) => run.standard) },
      { header: "block", cells: runs.map((run) => run.block) },
      { header: "role", cells: runs.map((run) => run.role) },
      ...factors.map((factor) => ({
        header: headerText(factor.name, factor.kind === "quantity" ? factor.unit : ""),
        cells: runs.map(({ settings, texts }) => {
          const setting = settings[factor.name];
          return typeof setting === "number" ? typedCell(setting, texts?.[factor.name], dialect) : setting;
        }),
      })),
      ...(runs.some(({ wholePlot }) => wholePlot !== undefined)
        ? [{ header: wholePlotColumn, cells: runs.map((run) => run.wholePlot ?? "") }]
        : []),
    ],
    dialect,
  );
}

/**
 * The runs of plan.csv. Columns stand in any order; a factor's unit may be another one of its dimension. Refused, with
 * line, run and field: a setting that is missing or can't stand for its factor, runs that are not numbered 1 to n.
 */
export function parsePlan(table: DataTable, { factors }: Pick<TrialSpec, "factors">): readonly Run[] {
  const columns = namedColumns(
    table,
    ["run", ...factors.map((factor) => factor.name)],
    ["standard", "block", "role", wholePlotColumn],
  );
  const units = new Map(factors.map((factor) => [factor.name, headerUnit(factor, columns, table.file)]));
  const runs = table.lines.map((line, row): Run => {
    const place = { file: table.file, line };
    const run = wholeNumber(columns.cell("run", row), { ...place, field: "run" });
    const field = (name: string): { file: string; line: number; run: number; field: string } => ({
      ...place,
      run,
      field: name,
    });
    const settings: Record<string, Setting> = {};
    const texts: Record<string, string> = {};
    for (const factor of factors) {
      const cell = columns.cell(factor.name, row);
      settings[factor.name] = settingInCell(cell, factor, units.get(factor.name), table, field(factor.name));
      const sameUnit = factor.kind === "quantity" && units.get(factor.name) === factor.unit;
      if (sameUnit) Object.assign(texts, textOf(factor.name, cell.trim(), settings[factor.name], table));
    }
    const plot = columns.cell(wholePlotColumn, row);
    const typed = Object.keys(texts).length > 0 ? { texts } : {};
    return {
      run,
      standard: wholeNumber(columns.cell("standard", row), field("standard"), run),
      block: wholeNumber(columns.cell("block", row), field("block"), 1),
      role: roleInCell(columns.cell("role", row), field("role")),
      settings,
      ...typed,
      ...(plot.trim() === "" ? {} : { wholePlot: wholeNumber(plot, field(wholePlotColumn)) }),
    };
  });
  checkNumbers(runs, table);
  return [...runs].sort((a, b) => a.run - b.run);
}

function textOf(
  name: string,
  text: string,
  setting: Setting,
  { dialect }: DataTable,
): Readonly<Record<string, string>> {
  const { text: odd } = typeof setting === "number" ? kept(text, setting, dialect.decimal) : {};
  return odd === undefined ? {} : { [name]: odd };
}

function headerUnit(factor: Factor, columns: NamedColumns, file: string): UnitName | undefined {
  if (factor.kind === "category") return undefined;
  const { unit } = columns.find(factor.name) as TableColumn; // namedColumns has seen it
  const place = { file, line: 1, field: factor.name };
  if (unit === "")
    throw storeError(
      place,
      `the header has no unit; expected ${quoted(headerText(factor.name, factor.unit))}.`,
    );
  const answer = readUnit(unit);
  if (answer.kind === "value" && dimensionOf(answer.value) === dimensionOf(factor.unit)) return answer.value;
  throw storeError(
    place,
    `got the unit ${quoted(unit)}; expected ${factor.unit}, or another unit of ${dimensionOf(factor.unit)}. Mend the header.`,
  );
}

function settingInCell(
  cell: string,
  factor: Factor,
  unit: UnitName | undefined,
  table: DataTable,
  place: Place,
): Setting {
  const number = factor.kind === "quantity" ? numberInOwnCell(cell, table.dialect.decimal) : null;
  const setting =
    factor.kind === "quantity" && typeof number === "number"
      ? inUnitOf(number, unit ?? factor.unit, factor.unit)
      : cell.trim();
  const expected = whyNotASetting(factor, setting);
  if (expected === null) return setting;
  throw storeError(
    place,
    `got ${cell.trim() === "" ? "nothing" : quoted(cell.trim())}; expected ${expected}. Mend the cell.`,
  );
}

function roleInCell(cell: string, place: Place): RunRole {
  const text = cell.trim().toLowerCase();
  const role = text === "" ? "given" : roles.find((candidate) => candidate === text);
  if (role !== undefined) return role;
  throw storeError(place, `got ${quoted(cell.trim())}; expected one of ${roles.join(", ")}. Mend the cell.`);
}

function checkNumbers(runs: readonly Run[], { file, lines }: DataTable): void {
  const seen = new Map<number, number>();
  runs.forEach(({ run }, index) => {
    const line = lines[index];
    const first = seen.get(run);
    if (first !== undefined)
      throw storeError(
        { file, line, run },
        `the run stands on line ${first} already. Give each run its own number.`,
      );
    if (run > runs.length) {
      const expected = `expected runs 1 to ${runs.length}, in cutting order`;
      throw storeError(
        { file, line, run },
        `the file has ${runs.length} runs; ${expected}. Number them without gaps.`,
      );
    }
    seen.set(run, line);
  });
}
