import { isAbsolute, join, resolve } from "node:path";
import { openTrial as openFolder, type TrialFolder } from "../store/index.ts";
import { callerFile } from "./caller-file.ts";
import { noteOpened, pageContext } from "./page-context.ts";
import { projectOf } from "./run-as-program.ts";

/** What the page of a trial is made from; the journal is left out, because the files are written from it. */
const watchedFiles = ["trial.json", "plan.csv", "as-cut.csv", "readings.csv"];

/**
 * Opens a trial for a notebook, by its name in the project's `experiments/` or by a path. The page takes note: its title block names
 * the trial with its question, units, checksum and kind of data, and the page is run again when one of the trial's files changes.
 * `root` names another folder of trials. Refused as by the store: no trial there, files with errors (file, line, run and field named).
 *
 * @example const trial = await openTrial("seal-face-factorial");
 */
export async function openTrial(
  nameOrFolder: string,
  options: { readonly root?: string } = {},
): Promise<TrialFolder> {
  // The caller is asked before anything is awaited: afterwards it is no longer on the stack.
  const project = pageContext()?.root ?? projectOf(resolve(callerFile(openTrial)));
  const isPath = isAbsolute(nameOrFolder) || /[\\/]/.test(nameOrFolder) || nameOrFolder.startsWith(".");
  const root = options.root ?? (isPath ? undefined : join(project, "experiments"));
  const trial = await openFolder(nameOrFolder, root === undefined ? {} : { root });
  const { title, question, display, dataKind, source } = trial.spec;
  noteOpened({
    name: trial.name,
    title,
    question,
    display,
    dataKind,
    source,
    checksum: trial.checksum,
    files: watchedFiles.map((file) => join(trial.folder, file)),
  });
  return trial;
}
