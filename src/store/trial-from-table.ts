import { parseTrialSpec, TrialError, type Reading, type Run, type TrialSpec } from "../trial/index.ts";
import { createTrial, type CreateOptions } from "./create-trial.ts";
import { refused } from "./commit-import.ts";
import type { Dialect } from "./dialect.ts";
import { fileDoubts } from "./file-doubts.ts";
import { fileReadings } from "./import-readings.ts";
import { findings, importTable, type OpenMatters } from "./import-table.ts";
import type { ImportColumn } from "./import-columns.ts";
import type { ImportOptions } from "./preview-import.ts";
import type { TrialFolder } from "./open-trial.ts";
import type { Question } from "./question.ts";
import { mostLevels, tableColumns, type RoledColumn } from "./table-columns.ts";
import { tableRuns } from "./table-runs.ts";

export interface TableTrialOptions extends ImportOptions {
  /** Columns that together name one surface, such as run, diameter and edge. Default: the run column, else asked. */
  readonly surface?: readonly string[];
  /** What trial.json says besides factors, responses and layout. */
  readonly about?: Partial<
    Pick<TrialSpec, "title" | "question" | "dataKind" | "source" | "display" | "held">
  >;
}

/** The trial that a table would become. Nothing is written before `problems` and `questions` are empty. */
export interface TablePreview extends OpenMatters {
  readonly source: string | Uint8Array;
  readonly options: TableTrialOptions;
  readonly columns: readonly RoledColumn[];
  readonly dialect: Dialect | null;
  readonly rows: number;
  /** How surfaces were told apart, in words. */
  readonly told: string;
  /** The contents of trial.json; null while it can't be made. */
  readonly spec: TrialSpec | null;
  readonly runs: readonly Run[];
  readonly readings: readonly Reading[];
  /** Names that were numbered: spots by first appearance. */
  readonly spots: readonly string[];
}

/**
 * Looks at a table that carries settings and readings as a new trial with a layout of kind `given`. Each surface becomes a
 * run; rows of one surface are repeats at their spots, and surfaces with equal settings are replicates. Spots with names
 * are numbered in the order of the file, and the name becomes the reading's note.
 *
 * Nothing is written: give the preview to `createTrialFromTable`, with answers to its questions.
 */
export function trialFromTable(source: string | Uint8Array, options: TableTrialOptions = {}): TablePreview {
  const {
    mapping = {},
    answers = {},
    force = "",
    file = "the pasted table",
    surface = [],
    about = {},
  } = options;
  const found = findings(answers);
  const nothing = {
    columns: [],
    dialect: null,
    rows: 0,
    told: "",
    spec: null,
    runs: [],
    readings: [],
    spots: [],
  };
  const table = importTable(source, file, answers, found);
  if (table === null) return { source, options, ...nothing, ...found.matters() };
  const columns = tableColumns(table, mapping, found);
  const seen = { source, options, ...nothing, columns, dialect: table.dialect, rows: table.rows };
  const runs = tableRuns(table, columns, surface, found);
  const before = found.matters();
  if (runs === null || before.problems.length + before.questions.length > 0) return { ...seen, ...before };
  const spec = specOf(columns, about);
  try {
    parseTrialSpec(spec, file);
  } catch (cause) {
    if (!(cause instanceof TrialError)) throw cause;
    cause.message.split("\n").forEach((line) => found.problem(line));
    return { ...seen, ...found.matters() };
  }
  const trial = {
    name: "",
    spec: parseTrialSpec(spec, file),
    runs: runs.runs,
    asCut: [],
    readings: [],
    checksum: "",
  };
  const { readings: read } = fileReadings(table, asImport(columns), runs.rowRuns, trial, found);
  const settled = found.matters().problems.length === 0;
  const { readings, open } = fileDoubts(trial, settled ? read : [], { answers, force, file });
  const matters = found.matters();
  return {
    ...seen,
    told: runs.told,
    spec,
    runs: runs.runs,
    readings,
    spots: spotNames(columns),
    problems: matters.problems,
    questions: [...matters.questions, ...open],
  };
}

/** The trial that a table became; or nothing was made, and something is asked. */
export type TableTrial =
  | { readonly kind: "created"; readonly trial: TrialFolder }
  | { readonly kind: "asked"; readonly questions: readonly Question[] };

/**
 * Makes the folder of a trial from what a preview showed, with the answers. Refused: a table with problems, and a folder
 * that is there already.
 */
export async function createTrialFromTable(
  root: string,
  name: string,
  preview: TablePreview,
  {
    answers = {},
    force = "",
    now,
  }: Pick<ImportOptions, "answers" | "force"> & Pick<CreateOptions, "now"> = {},
): Promise<TableTrial> {
  const merged: TableTrialOptions = {
    ...preview.options,
    answers: { ...preview.options.answers, ...answers },
    ...(force === "" ? {} : { force }),
  };
  const { spec, runs, readings, problems, questions } = trialFromTable(preview.source, merged);
  if (problems.length > 0) throw refused(problems, merged.file);
  if (questions.length > 0 || spec === null) return { kind: "asked", questions };
  const trial = await createTrial(root, name, spec, runs, {
    readings,
    ...(now === undefined ? {} : { now }),
  });
  return { kind: "created", trial };
}

function spotNames(columns: readonly RoledColumn[]): readonly string[] {
  const column = columns.find(({ role }) => role === "spot")?.column;
  if (column === undefined || column.numbers !== null) return [];
  return [...new Set(column.texts.map((text) => text.trim()))].filter((name) => name !== "");
}

/** The columns as an import sees them: responses by their names, the rest by their words. */
function asImport(columns: readonly RoledColumn[]): readonly ImportColumn[] {
  return columns.map(({ column, role, why }) => {
    const meaning =
      role === "response"
        ? column.name
        : role === "spot" || role === "repeat" || role === "note" || role === "taken"
          ? role
          : "leave out";
    return { column, meaning, why, samples: column.texts.slice(0, 3) };
  });
}

function specOf(columns: readonly RoledColumn[], about: TableTrialOptions["about"] = {}): TrialSpec {
  const factors = columns.flatMap(({ column, role, unit }): TrialSpec["factors"] => {
    const { name, numbers, texts } = column;
    if (role === "category")
      return [
        { name, kind: "category", levels: [...new Set(texts.map((text) => text.trim()))], change: "easy" },
      ];
    if (role !== "quantity" || unit === null || numbers === null) return [];
    const levels = [...new Set(numbers.filter((value) => value !== null))].sort((a, b) => a - b);
    const listed = levels.length <= mostLevels ? { levels } : {};
    return [
      {
        name,
        kind: "quantity",
        unit,
        low: levels[0],
        high: levels[levels.length - 1],
        scale: "linear",
        ...listed,
        change: "easy",
      },
    ];
  });
  const held = columns.flatMap(({ column, role, unit }) =>
    role === "held" ? [[column.name, [column.texts[0].trim(), unit ?? ""].join(" ").trim()] as const] : [],
  );
  return {
    format: "trycut-trial/1",
    title: about.title ?? "A trial from a table",
    question: about.question ?? "",
    dataKind: about.dataKind ?? "measured",
    source: about.source ?? "",
    display: about.display ?? "metric",
    factors,
    responses: columns.flatMap(({ column, role, unit }) =>
      role === "response" && unit !== null ? [{ name: column.name, unit, aim: "smaller" as const }] : [],
    ),
    layout: { kind: "given" },
    held: { ...Object.fromEntries(held), ...about.held },
  };
}
