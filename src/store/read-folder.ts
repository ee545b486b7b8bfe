import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { storeError } from "./error.ts";
import { isMissing, journalFile, readJournalFile, type Journal } from "./journal-file.ts";
import { replayAll } from "./replay-all.ts";
import type { State } from "./replay.ts";
import { sha256, trialFiles, type TrialFile } from "./trial-files.ts";

/** A file as it was found. */
export interface FoundFile {
  readonly bytes: Uint8Array;
  readonly hash: string;
  readonly changedAt: number;
}

/** All that a trial's folder holds, read and not yet judged. */
export interface FoundFolder {
  readonly folder: string;
  /** Null where the folder has no journal: its files alone count. */
  readonly journal: Journal | null;
  /** What the journal tells; empty without one. */
  readonly state: State;
  readonly files: Readonly<Partial<Record<TrialFile, FoundFile>>>;
  readonly journalChangedAt: number;
}

/** Reads journal and files. Refused: a folder that holds no trial. */
export async function readFolder(folder: string): Promise<FoundFolder> {
  // Files first: a file that is newer than the journal as read would pass for an edit by hand.
  const found = await Promise.all(
    trialFiles.map(async (name) => [name, await readFound(join(folder, name))] as const),
  );
  const journal = await readJournalFile(folder);
  const files = Object.fromEntries(found.filter(([, file]) => file !== null));
  if (journal === null && files["trial.json"] === undefined) {
    throw storeError(
      { file: folder },
      "there is no trial here; expected a folder with a trial.json. Check the name.",
    );
  }
  const state = replayAll(journal?.entries ?? []);
  const journalChangedAt = journal === null ? 0 : (await stat(join(folder, journalFile))).mtimeMs;
  return { folder, journal, state, files, journalChangedAt };
}

async function readFound(path: string): Promise<FoundFile | null> {
  try {
    const [bytes, { mtimeMs }] = await Promise.all([readFile(path), stat(path)]);
    return { bytes, hash: sha256(bytes), changedAt: mtimeMs };
  } catch (cause) {
    if (isMissing(cause)) return null;
    throw cause;
  }
}
