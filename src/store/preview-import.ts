import {
  settingsAsCut,
  settingText,
  type AsCut,
  type Reading,
  type Setting,
  type Trial,
} from "../trial/index.ts";
import type { Dialect } from "./dialect.ts";
import { fileDoubts } from "./file-doubts.ts";
import { importColumns, type ImportColumn, type Mapping } from "./import-columns.ts";
import { fileReadings, type Conversion, type FileReading } from "./import-readings.ts";
import { fileSettings, rowRuns, type FileSettings } from "./import-runs.ts";
import { findings, importTable, type Findings, type OpenMatters } from "./import-table.ts";
import { choice, type Answers } from "./question.ts";
import type { DataTable } from "./read-table.ts";

export interface ImportOptions {
  /** What columns mean, where their headers don't tell. */
  readonly mapping?: Mapping;
  /** Answers to the questions of an earlier preview. */
  readonly answers?: Answers;
  /** Keeps every doubtful reading that is asked about, with this note. */
  readonly force?: string;
  /** Stands in the messages and in the journal. Default "the pasted table". */
  readonly file?: string;
}

/** What an import would do. Nothing is written before `problems` and `questions` are empty. */
export interface ImportPreview extends OpenMatters {
  /** The folder of the trial; empty for a trial that is not on disk. */
  readonly folder: string;
  readonly source: string | Uint8Array;
  readonly options: ImportOptions;
  readonly columns: readonly ImportColumn[];
  readonly dialect: Dialect | null;
  /** Rows in the file. */
  readonly rows: number;
  /** What would be added, answers applied. */
  readonly readings: readonly Reading[];
  /** The line of each of them in the file. */
  readonly lines: readonly number[];
  readonly asCut: readonly AsCut[];
  readonly conversions: readonly Conversion[];
}

/**
 * Looks at a CSV file or a pasted table as readings of a trial: which column is what, which row belongs to which run, what
 * is converted, what is doubtful. A file with one row for each reading or with a column for each response will do; runs are
 * told by a run column, or by the settings where these differ. Rows of one run are repeats: readings of one surface.
 *
 * Nothing is written: give the preview to `commitImport`, with answers to its questions.
 */
export function previewImport(
  source: string | Uint8Array,
  trial: Trial & { readonly folder?: string },
  options: ImportOptions = {},
): ImportPreview {
  const { mapping = {}, answers = {}, force = "", file = "the pasted table" } = options;
  const found = findings(answers);
  const table = importTable(source, file, answers, found);
  const nothing = {
    columns: [],
    dialect: null,
    rows: 0,
    readings: [],
    lines: [],
    asCut: [],
    conversions: [],
  };
  const common = { folder: trial.folder ?? "", source, options };
  if (table === null) return { ...common, ...nothing, ...found.matters() };
  const columns = importColumns(table, trial.spec, mapping, found);
  const settings = fileSettings(table, columns, trial, found);
  const runs = rowRuns(table, columns, settings, trial, found);
  const { readings: read, conversions } = fileReadings(table, columns, runs, trial, found);
  const asCut = cutOtherwise(table, settings, runs, trial, file, found);
  const fresh = withoutKnown(read, trial, found);
  // A problem in the file would only raise doubts about readings that are not as they should be.
  const settled = found.matters().problems.length === 0;
  const judged = { ...trial, asCut: [...trial.asCut, ...asCut] };
  const { readings, lines, open } = fileDoubts(judged, settled ? fresh : [], { answers, force, file });
  const matters = found.matters();
  return {
    ...common,
    columns,
    dialect: table.dialect,
    rows: table.rows,
    readings,
    lines,
    asCut,
    conversions,
    problems: matters.problems,
    questions: [...matters.questions, ...open],
  };
}

/** Settings in the file that are not those of the plan: asked about, once for each run and factor. */
function cutOtherwise(
  table: DataTable,
  { factors, at }: FileSettings,
  runs: readonly (number | null)[],
  trial: Trial,
  file: string,
  found: Findings,
): readonly AsCut[] {
  const seen = new Map<string, AsCut | null>();
  runs.forEach((number, row) => {
    const run = trial.runs.find((one) => one.run === number);
    if (run === undefined) return;
    const planned = settingsAsCut(trial, run);
    for (const factor of factors) {
      const setting = at(row, factor.name);
      const key = `cut ${run.run} ${factor.name}`;
      if (setting === null || seen.has(key) || same(setting, planned[factor.name])) continue;
      const here = settingText(factor, setting, trial.spec.display);
      const there = settingText(factor, planned[factor.name], trial.spec.display);
      const answer = found.ask({
        id: key,
        kind: "cut-otherwise",
        text: `line ${table.lines[row]}, run ${run.run}: ${factor.name} is ${here} in the file and ${there} in the plan. Was the run cut so?`,
        line: table.lines[row],
        run: run.run,
        field: factor.name,
        choices: [
          choice("cut so", `Yes, it was cut at ${here}`),
          choice("as planned", `No, the plan is right: ${there}`),
        ],
      });
      const unit = factor.kind === "quantity" ? factor.unit : "";
      seen.set(
        key,
        answer === "cut so"
          ? { run: run.run, factor: factor.name, value: setting, unit, reason: `as ${file} says` }
          : null,
      );
    }
  });
  return [...seen.values()].filter((note) => note !== null);
}

function same(a: Setting, b: Setting): boolean {
  return typeof a === "number" && typeof b === "number" ? Math.abs(a - b) <= 1e-9 * Math.abs(b) : a === b;
}

/** A file that was taken in before, whole or in part, is asked about: else its readings would count twice. */
function withoutKnown(read: readonly FileReading[], trial: Trial, found: Findings): readonly FileReading[] {
  const keyOf = (reading: {
    run: number;
    response: string;
    value: number | string;
    unit?: string;
    spot?: number;
  }): string =>
    `${reading.run}/${reading.response}/${reading.spot ?? 1}/${reading.value}/${reading.unit ?? ""}`;
  const there = new Map<string, number>();
  trial.readings.forEach((reading) => there.set(keyOf(reading), (there.get(keyOf(reading)) ?? 0) + 1));
  const known = read.map((reading) => {
    const left = there.get(keyOf(reading)) ?? 0;
    there.set(keyOf(reading), left - 1);
    return left > 0;
  });
  const count = known.filter(Boolean).length;
  // A few equal values are chance: gauges show two or three digits.
  if (count === 0 || count < read.length / 2) return read;
  const answer = found.ask({
    id: "known readings",
    kind: "column",
    text: `${count} of the ${read.length} readings are in the trial already, with the same run, spot and value. Was this file taken in before?`,
    line: null,
    run: null,
    field: "",
    choices: [
      choice("only new", `Yes: take in the other ${read.length - count}`),
      choice("all", "No: these are further readings of the same surfaces"),
    ],
  });
  return answer === "only new" ? read.filter((_, index) => !known[index]) : read;
}
