import { randomUUID } from "node:crypto";
import { mkdir, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { parseTrialSpec, type AsCut, type Reading, type Run } from "../trial/index.ts";
import { syncFolder } from "./atomic-write.ts";
import { checkTrial } from "./check-trial.ts";
import { newFolderIn } from "./folder-names.ts";
import { rowOf } from "./journal-readings.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import { emptyState } from "./replay.ts";
import { writeChange, type Clock } from "./write-change.ts";

export interface CreateOptions {
  readonly now?: Clock;
  /** For a trial that was cut elsewhere. */
  readonly readings?: readonly Reading[];
  readonly asCut?: readonly AsCut[];
}

/**
 * Makes a trial's folder: trial.json as given, the plan (empty until the trial is laid out), empty files for what is to be
 * cut and read, and the journal. The folder appears whole or not at all.
 *
 * `spec` is the contents of a trial.json, checked here. Refused: a name that is not safe on every system, a folder that is
 * there already, runs that don't fit the spec.
 */
export async function createTrial(
  root: string,
  name: string,
  spec: unknown,
  runs: readonly Run[] = [],
  { now = () => new Date(), readings = [], asCut = [] }: CreateOptions = {},
): Promise<TrialFolder> {
  const folder = await newFolderIn(root, name);
  const parsed = parseTrialSpec(spec, `${name}/trial.json`);
  checkTrial({ spec: parsed, runs, asCut, readings });
  await mkdir(root, { recursive: true });
  const beside = join(root, `.${name}.${randomUUID()}.tmp`);
  await mkdir(beside);
  try {
    const specText = `${JSON.stringify(spec, null, 2)}\n`;
    const change = {
      kind: "created" as const,
      specText,
      runs: [...runs],
      asCut: [...asCut],
      readings: readings.map(rowOf),
    };
    const start = { folder: beside, journal: null, state: emptyState, spec: parsed, notices: [] };
    const { state } = await writeChange(start, change, { now });
    // Nobody else makes the same folder between this look and the renaming, but for a race of two people with one name,
    // which the renaming refuses: the folder is not empty.
    await newFolderIn(root, name);
    await rename(beside, folder);
    await syncFolder(dirname(folder));
    return asTrialFolder(folder, state, parsed, []);
  } catch (cause) {
    await rm(beside, { recursive: true, force: true });
    throw cause;
  }
}

/** True for the folders that `createTrial` is still filling. */
export function isUnfinished(folder: string): boolean {
  return /^\..+\.tmp$/.test(basename(folder));
}
