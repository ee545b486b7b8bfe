import type { ColumnTable } from "arquero";
import { basename } from "node:path";
import type { Trial, TrialSpec } from "../trial/index.ts";
import { isOpenElsewhere } from "./atomic-write.ts";
import { trialChecksum } from "./checksum.ts";
import { trialFolder, type FolderOptions } from "./folder-names.ts";
import { judgeFolder, type JudgedFolder } from "./judge-folder.ts";
import { isLocked } from "./lock.ts";
import { readFolder } from "./read-folder.ts";
import { readingTable } from "./reading-table.ts";
import type { State } from "./replay.ts";
import { withTrial, type ChangeOptions } from "./settle.ts";

/** A trial as it stands in its folder. Opening it again gives what was written since. */
export interface TrialFolder extends Trial {
  readonly folder: string;
  /** One row a reading, joined with its run; see `readingTable`. */
  readonly table: () => ColumnTable;
  /** What the people at the trial should know: edits by hand that were taken up, files that could not be written. */
  readonly notices: readonly string[];
}

/**
 * Opens a trial by its name in the root, or by its folder. What a crash left undone is brought in order first (files are
 * written again from the journal), and edits by hand are taken up and journalled; a folder that can't be written to is
 * read all the same.
 *
 * Refused with a `StoreError` or `TrialError`, nothing changed: no trial there, a damaged journal, files with errors (file,
 * line, run and field are named).
 *
 * @example (await openTrial("seal-face")).readings.length // 24
 */
export async function openTrial(
  nameOrFolder: string,
  options: FolderOptions & ChangeOptions = {},
): Promise<TrialFolder> {
  const folder = await trialFolder(nameOrFolder, options);
  const found = await readFolder(folder);
  if (!(await isLocked(folder))) {
    const judged = judgeFolder(found);
    if (isSettled(judged)) return asTrialFolder(folder, judged.state, judged.spec, []);
  }
  try {
    return await withTrial(
      folder,
      async ({ state, spec, notices }) => asTrialFolder(folder, state, spec, notices),
      options,
    );
  } catch (cause) {
    if (!isReadOnly(cause)) throw cause;
    const { state, spec, edits } = judgeFolder(found, { afterCrash: true });
    const notices = edits.map(
      ({ edit }) => `${edit.file} was edited by hand: ${edit.summary}. The folder can't be written to.`,
    );
    return asTrialFolder(folder, state, spec, notices);
  }
}

function isSettled({ edits, rebuild }: JudgedFolder): boolean {
  return edits.length === 0 && rebuild.length === 0;
}

function isReadOnly(cause: unknown): boolean {
  return isOpenElsewhere(cause) || (cause instanceof Error && "code" in cause && cause.code === "EROFS");
}

export function asTrialFolder(
  folder: string,
  state: State,
  spec: TrialSpec,
  notices: readonly string[],
): TrialFolder {
  const { runs, asCut, readings } = state;
  const parts = { spec, runs, asCut, readings };
  return {
    name: basename(folder),
    folder,
    ...parts,
    added: state.added,
    checksum: trialChecksum(parts),
    table: () => readingTable(parts),
    notices,
  };
}
