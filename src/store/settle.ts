import { sweepTemporary } from "./atomic-write.ts";
import { parseTrialText } from "../trial/index.ts";
import { judgeFolder, type JudgedFolder } from "./judge-folder.ts";
import { takeLock, type Lock, type LockOptions } from "./lock.ts";
import { readFolder, type FoundFolder } from "./read-folder.ts";
import type { State } from "./replay.ts";
import { trialFiles, type TrialFile } from "./trial-files.ts";
import { noteBehind, rewriteFiles, writeChange, type Clock, type Held } from "./write-change.ts";

export interface ChangeOptions extends LockOptions {
  readonly now?: Clock;
}

/**
 * Takes the folder's lock, brings journal and files together, and lets `work` change the trial; the lock is given back
 * whatever happens.
 */
export async function withTrial<T>(
  folder: string,
  work: (held: Held, now: Clock) => Promise<T>,
  { now = () => new Date(), ...lockOptions }: ChangeOptions = {},
): Promise<T> {
  const lock = await takeLock(folder, lockOptions);
  try {
    return await work(await settle(folder, lock, now), now);
  } finally {
    await lock.release();
  }
}

async function settle(folder: string, { afterCrash }: Lock, now: Clock): Promise<Held> {
  await sweepTemporary(folder);
  const found = await readFolder(folder);
  const judged = await judgedOrNoted(found, afterCrash, now);
  if (found.journal === null)
    return { folder, journal: null, state: judged.state, spec: judged.spec, notices: [] };
  const state = withDialects(found.state, judged.state);
  let held: Held = {
    folder,
    journal: found.journal,
    state,
    spec: parseTrialText(state.specText),
    notices: [],
  };
  const planEdited = judged.edits.some(({ edit }) => edit.file === "plan.csv");
  for (const { edit, found: hash } of judged.edits) {
    // Other units for factors change the plan's headers and settings.
    const withPlan = edit.file === "trial.json" && !planEdited && state.files["plan.csv"] !== undefined;
    const also: readonly TrialFile[] = withPlan ? [edit.file, "plan.csv"] : [edit.file];
    held = await writeChange(held, edit, { now, also, found: { [edit.file]: hash } });
    held = { ...held, notices: [...held.notices, `${edit.file} was edited by hand: ${edit.summary}.`] };
  }
  return rewriteFiles(held, judged.rebuild, now);
}

/** Files come back to a spreadsheet as it wrote them. */
function withDialects(state: State, seen: State): State {
  const files = { ...state.files };
  for (const name of trialFiles) {
    const [written, found] = [files[name], seen.files[name]];
    if (found !== undefined) files[name] = { ...(written ?? found), dialect: found.dialect };
  }
  return { ...state, files };
}

/**
 * After a crash the lock is the evidence that files may be old. Where an edit by hand in one of them is refused, the lock
 * goes and the evidence with it, so the journal notes it first.
 */
async function judgedOrNoted(found: FoundFolder, afterCrash: boolean, now: Clock): Promise<JudgedFolder> {
  try {
    return judgeFolder(found, { afterCrash });
  } catch (cause) {
    const { journal, state, files } = found;
    const behind = trialFiles.filter((name) => {
      const [file, written] = [files[name], state.files[name]];
      return file !== undefined && written !== undefined && file.hash !== written.hash && !written.behind;
    });
    if (afterCrash && journal !== null && behind.length > 0) await noteBehind(found, behind, now);
    throw cause;
  }
}
