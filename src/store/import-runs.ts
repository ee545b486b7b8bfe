import {
  settingsAsCut,
  settingText,
  type Factor,
  type Run,
  type Setting,
  type Trial,
} from "../trial/index.ts";
import { quoted } from "./error.ts";
import { columnFor, type ImportColumn } from "./import-columns.ts";
import { cellNumber, columnUnit, type Findings } from "./import-table.ts";
import { inUnitOf } from "./number-field.ts";
import { choice, type Question } from "./question.ts";
import type { DataTable, TableColumn } from "./read-table.ts";

/** The settings that a file gives for its rows, factor by factor; null where a row leaves one open. */
export interface FileSettings {
  readonly factors: readonly Factor[];
  readonly at: (row: number, factor: string) => Setting | null;
}

/** Reads the factor columns of a file, in the factors' units. */
export function fileSettings(
  table: DataTable,
  columns: readonly ImportColumn[],
  trial: Trial,
  found: Findings,
): FileSettings {
  const read = trial.spec.factors.flatMap((factor) => {
    const column = columnFor(columns, factor.name);
    return column === null ? [] : [{ factor, cells: settingCells(table, column, factor, found) }];
  });
  const cells = new Map(read.map(({ factor, cells: list }) => [factor.name, list]));
  return { factors: read.map(({ factor }) => factor), at: (row, factor) => cells.get(factor)?.[row] ?? null };
}

function settingCells(
  table: DataTable,
  column: TableColumn,
  factor: Factor,
  found: Findings,
): readonly (Setting | null)[] {
  if (factor.kind === "category") {
    return column.texts.map((text, row) => {
      const level = factor.levels.find((known) => known.toLowerCase() === text.trim().toLowerCase());
      if (level === undefined && text.trim() !== "") {
        const expected = factor.levels.map(quoted).join(", ");
        found.problem(
          `line ${table.lines[row]}, ${column.name}: got ${quoted(text)}; expected one of ${expected}.`,
          { line: table.lines[row], column: column.name },
        );
      }
      return level ?? null;
    });
  }
  const unit = columnUnit(column) ?? askUnit(column, factor.unit, found);
  if (unit === null) return column.texts.map(() => null);
  return column.texts.map((_, row) => {
    const typed = cellNumber(table, column, row, unit, found);
    return typed === null ? null : inUnitOf(typed.value, typed.unit, factor.unit);
  });
}

/** A bare number has no unit, and which one was meant is not for the tool to say. */
export function askUnit(
  column: TableColumn,
  like: Extract<Factor, { kind: "quantity" }>["unit"],
  found: Findings,
): typeof like | null {
  const question: Question = {
    id: `unit ${column.name}`,
    kind: "unit",
    text: `${column.unit === "" ? `The column ${quoted(column.header)} has no unit` : `The unit ${quoted(column.unit)} is not known`}. Is it ${like}? If not, write the unit into the header in brackets.`,
    line: 1,
    run: null,
    field: column.name,
    choices: [choice(like, `Yes, ${like}`)],
  };
  return found.ask(question) === null ? null : like;
}

/** The run of each row; null where it is not known, which is noted or asked. */
export function rowRuns(
  table: DataTable,
  columns: readonly ImportColumn[],
  settings: FileSettings,
  trial: Trial,
  found: Findings,
): readonly (number | null)[] {
  const column = columnFor(columns, "run");
  return column === null
    ? runsBySettings(table, settings, trial, found)
    : runsByNumber(table, column, trial, found);
}

function runsByNumber(
  table: DataTable,
  column: TableColumn,
  { runs }: Trial,
  found: Findings,
): readonly (number | null)[] {
  const known = new Set(runs.map((run) => run.run));
  return table.lines.map((line, row) => {
    const number = column.numbers === null ? Number(column.texts[row].trim()) : column.numbers[row];
    if (number !== null && known.has(number)) return number;
    const plan =
      runs.length === 0 ? "the trial is not laid out yet" : `the plan has runs 1 to ${runs.length}`;
    found.problem(`line ${line}: got run ${quoted(column.texts[row].trim())}; ${plan}.`, {
      line,
      column: column.name,
    });
    return null;
  });
}

function runsBySettings(
  table: DataTable,
  settings: FileSettings,
  trial: Trial,
  found: Findings,
): readonly (number | null)[] {
  if (settings.factors.length < trial.spec.factors.length) {
    const missing = trial.spec.factors
      .filter((factor) => !settings.factors.includes(factor))
      .map(({ name }) => name);
    found.problem(
      `the file has no run column, and without ${missing.join(", ")} the settings don't tell the runs apart. Add a run column, or map one.`,
    );
    return table.lines.map(() => null);
  }
  const fitting = table.lines.map((line, row) => {
    const runs = trial.runs.filter((run) => fits(trial, run, settings, row));
    const read = settings.factors.map((factor) => settings.at(row, factor.name));
    if (runs.length === 0 && !read.includes(null)) {
      const text = settings.factors
        .map((factor, index) => `${factor.name} ${settingText(factor, read[index] as Setting, "metric")}`)
        .join(", ");
      found.problem(`line ${line}: no run of the plan has ${text}. Add the run first, or mend the row.`, {
        line,
      });
    }
    return runs;
  });
  return replicatesApart(table, fitting, found);
}

/** The same settings, but for digits that rounding cut off. */
function fits(trial: Trial, run: Run, settings: FileSettings, row: number): boolean {
  const cut = settingsAsCut(trial, run);
  return settings.factors.every(({ name }) => {
    const [here, there] = [settings.at(row, name), cut[name]];
    return typeof here === "number" && typeof there === "number"
      ? Math.abs(here - there) <= 1e-9 * Math.abs(there)
      : here === there;
  });
}

/** Where several runs have a row's settings, it is asked whether the rows are these runs in order, or readings of one. */
function replicatesApart(
  table: DataTable,
  fitting: readonly (readonly Run[])[],
  found: Findings,
): readonly (number | null)[] {
  const groups = new Map<number, number[]>();
  fitting.forEach((runs, row) => {
    if (runs.length > 1) groups.set(runs[0].run, [...(groups.get(runs[0].run) ?? []), row]);
  });
  const assigned = fitting.map((runs): number | null => (runs.length === 1 ? runs[0].run : null));
  for (const [first, rows] of groups) {
    const runs = fitting[rows[0]].map((run) => run.run);
    const fair = rows.length % runs.length === 0;
    const lines = rows.map((row) => table.lines[row]).join(", ");
    const answer = found.ask({
      id: `run ${first}`,
      kind: "repeat-or-replicate",
      text: `Runs ${runs.join(", ")} have the same settings, and so have lines ${lines}. Are these fresh runs, or readings of one surface?`,
      line: table.lines[rows[0]],
      run: first,
      field: "run",
      choices: [
        ...(fair
          ? [choice("replicates", `Fresh runs, in cutting order: ${rows.length / runs.length} a run`)]
          : []),
        ...runs.map((run) => choice(`run ${run}`, `All are readings of run ${run}`)),
      ],
    });
    if (answer === null) continue;
    const each = rows.length / runs.length;
    rows.forEach((row, index) => {
      assigned[row] =
        answer === "replicates" ? runs[Math.floor(index / each)] : Number(answer.slice("run ".length));
    });
  }
  return assigned;
}
