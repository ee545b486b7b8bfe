export { openTrial } from "./open-trial.ts";
export type { TrialFolder } from "./open-trial.ts";
export { listTrials } from "./list-trials.ts";
export type { NextStep, TrialSummary } from "./list-trials.ts";
export { createTrial } from "./create-trial.ts";
export type { CreateOptions } from "./create-trial.ts";
export { safeName, trialFolder, whyNotAFolder } from "./folder-names.ts";
export type { FolderOptions } from "./folder-names.ts";

export { record } from "./record.ts";
export type { NewReading, Recorded } from "./record.ts";
export { takeBackVoid, voidReading } from "./void-reading.ts";
export { addRuns, changeSpec, layOutTrial, noteAsCut, notePublished, noteReview } from "./change-plan.ts";
export type { AddedRun, AddOptions, NewAsCut } from "./change-plan.ts";
export { addGrowth } from "./add-growth.ts";
export type { ChangeOptions } from "./settle.ts";
export type { ReadingKey } from "./reading-key.ts";

export { readJournal } from "./read-journal.ts";
export type { JournalLine } from "./read-journal.ts";

export { questionsAbout } from "./questions-about.ts";
export type { Answer, Answers, Choice, Question } from "./question.ts";
export type { AnswerOptions } from "./answer-questions.ts";

export { previewImport } from "./preview-import.ts";
export type { ImportOptions, ImportPreview } from "./preview-import.ts";
export { commitImport } from "./commit-import.ts";
export type { Imported } from "./commit-import.ts";
export { createTrialFromTable, trialFromTable } from "./trial-from-table.ts";
export type { TablePreview, TableTrial, TableTrialOptions } from "./trial-from-table.ts";
export type { ImportColumn, Mapping } from "./import-columns.ts";
export type { Conversion } from "./import-readings.ts";
export type { ImportProblem } from "./import-table.ts";
export { columnWords } from "./import-words.ts";
export { tableWords } from "./table-columns.ts";
export type { RoledColumn } from "./table-columns.ts";

export { trialChecksum } from "./checksum.ts";
export { readingTable } from "./reading-table.ts";

export { readTable } from "./read-table.ts";
export type { DataTable, ReadTableOptions, TableColumn } from "./read-table.ts";
export { writeCsv } from "./write-csv.ts";
export type { CsvColumn } from "./write-csv.ts";
export type { Dialect } from "./dialect.ts";
export { formatPlan } from "./plan-file.ts";
export { formatAsCut } from "./as-cut-file.ts";
export { formatReadings } from "./readings-file.ts";

export { StoreError } from "./error.ts";
