import { readJournalFile } from "./journal-file.ts";
import type { Change } from "./journal-change.ts";

/** One change of a trial, as its history shows it. */
export interface JournalLine {
  readonly sequence: number;
  /** ISO 8601. */
  readonly at: string;
  readonly kind: Change["kind"];
  /** In words: "3 readings recorded". */
  readonly text: string;
}

/**
 * The history of a trial, oldest first: every change that its journal holds. Empty for a folder without a journal. Refused
 * as by `openTrial`: a damaged journal.
 *
 * @example (await readJournal("experiments/seal-face")).at(-1)?.text // "3 readings recorded"
 */
export async function readJournal(folder: string): Promise<readonly JournalLine[]> {
  const journal = await readJournalFile(folder);
  return (journal?.entries ?? []).map(({ sequence, at, change }) => ({
    sequence,
    at,
    kind: change.kind,
    text: inWords(change),
  }));
}

function inWords(change: Change): string {
  switch (change.kind) {
    case "created":
      return `made with ${counted(change.runs, "run")} and ${counted(change.readings, "reading")}`;
    case "adopted":
      return `taken over as the files stood: ${counted(change.runs, "run")}, ${counted(change.readings, "reading")}`;
    case "laid-out":
      return `laid out: ${counted(change.runs, "run")}`;
    case "runs-added":
      return `${counted(change.runs, "run")} added${change.how === undefined ? "" : ` by ${change.how.by}`}`;
    case "recorded":
      return `${counted(change.readings, "reading")} recorded${because(change.note)}`;
    case "imported":
      return `${counted(change.readings, "reading")} taken in from ${change.source}${because(change.note)}`;
    case "voided":
      return `${counted(change.readings, "reading")} voided${because(change.reason)}`;
    case "void-taken-back":
      return `${counted(change.readings, "reading")} taken into use again${because(change.reason)}`;
    case "cut-otherwise":
      return `${counted(change.asCut, "setting")} noted as cut`;
    case "spec-changed":
      return "trial.json changed";
    case "edited-by-hand":
      return `${change.file} edited by hand: ${change.summary}`;
    case "reviewed":
      return `reviewed${because(change.note)}`;
    case "published":
      return `published: ${change.file}`;
    case "files-behind":
      return `could not be written yet: ${change.behind.join(", ")}`;
  }
}

function counted(list: readonly unknown[], what: string): string {
  return `${list.length} ${list.length === 1 ? what : `${what}s`}`;
}

function because(reason: string): string {
  return reason === "" ? "" : `: ${reason}`;
}
