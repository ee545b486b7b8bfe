import { parseTrialText, type TrialSpec } from "../trial/index.ts";
import { parseAsCut } from "./as-cut-file.ts";
import { checkTrial } from "./check-trial.ts";
import { decodeText } from "./decode.ts";
import { plainDialect, type Dialect } from "./dialect.ts";
import { readHandEdit, readOwnTable, type HandEdit } from "./hand-edits.ts";
import { parsePlan } from "./plan-file.ts";
import type { FoundFile, FoundFolder } from "./read-folder.ts";
import { parseReadings } from "./readings-file.ts";
import { changed, emptyState, stoodSo, type FileState, type State } from "./replay.ts";
import { trialFiles, type TrialFile } from "./trial-files.ts";

/** What a folder says, files and journal together. */
export interface JudgedFolder {
  /** With the edits by hand taken up. */
  readonly state: State;
  readonly spec: TrialSpec;
  /** Edits by hand, in the order in which they are to be journalled. */
  readonly edits: readonly { readonly edit: HandEdit; readonly found: string }[];
  /** Files that are missing or older than the journal, to be written again. */
  readonly rebuild: readonly TrialFile[];
}

/**
 * Compares files and journal. A file that is as the journal says is not even parsed. One that differs is old (a crash
 * came between journal and file: written again from the journal) or was edited by hand (taken up). It counts as old only
 * where it is a version that the journal knows, and there is evidence: a writer died, the journal says that the file is
 * behind, or the file is not newer than the journal.
 */
export function judgeFolder(found: FoundFolder, { afterCrash = false } = {}): JudgedFolder {
  if (found.journal === null) return withoutJournal(found);
  let state = found.state;
  const edits: { edit: HandEdit; found: string }[] = [];
  const rebuild: TrialFile[] = [];
  let spec = parseTrialText(state.specText);
  for (const name of trialFiles) {
    const file = found.files[name];
    const written = state.files[name];
    if (file === undefined) {
      if (written !== undefined) rebuild.push(name);
      continue;
    }
    if (written?.hash === file.hash) continue;
    if (written !== undefined && isOld(file, written, found.journalChangedAt, afterCrash)) {
      rebuild.push(name);
      continue;
    }
    const keepMissing = afterCrash || written?.behind === true;
    const { edit, dialect } = readHandEdit(name, file.bytes, state, spec, { keepMissing });
    state = withDialect(state, name, dialect);
    if (edit === null) continue;
    edits.push({ edit, found: file.hash });
    state = { ...state, ...changed(state, edit) };
    if (name === "trial.json") spec = parseTrialText(state.specText);
  }
  if (edits.length > 0) checkTrial({ spec, ...state });
  return { state, spec, edits, rebuild };
}

function isOld(file: FoundFile, written: FileState, journalChangedAt: number, afterCrash: boolean): boolean {
  return stoodSo(written, file.hash) && (afterCrash || written.behind || file.changedAt <= journalChangedAt);
}

function withDialect(state: State, name: TrialFile, dialect: Dialect): State {
  const file = state.files[name] ?? { hash: "", earlier: null, behind: false, dialect };
  return { ...state, files: { ...state.files, [name]: { ...file, dialect } } };
}

/** A folder that somebody made by hand, or whose journal was set aside: its files as they stand. */
function withoutJournal({ files }: FoundFolder): JudgedFolder {
  const specText = decodeText(files["trial.json"]?.bytes ?? new Uint8Array(), "trial.json").text;
  const spec = parseTrialText(specText);
  let state: State = { ...emptyState, specText };
  for (const name of trialFiles) {
    const file = files[name];
    if (file === undefined) continue;
    const table = name === "trial.json" ? null : readOwnTable(name, file.bytes, plainDialect);
    if (table !== null) {
      if (name === "plan.csv") state = { ...state, runs: parsePlan(table, spec) };
      if (name === "as-cut.csv") state = { ...state, asCut: parseAsCut(table, spec, state.runs) };
      if (name === "readings.csv") state = { ...state, readings: parseReadings(table, spec, state.runs) };
    }
    const dialect = table?.dialect ?? plainDialect;
    state = {
      ...state,
      files: { ...state.files, [name]: { hash: file.hash, earlier: null, behind: false, dialect } },
    };
  }
  checkTrial({ spec, ...state });
  return { state, spec, edits: [], rebuild: [] };
}
