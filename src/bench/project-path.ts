import { readdir, realpath } from "node:fs/promises";
import { join, sep } from "node:path";
import { BenchError } from "./error.ts";

/** Letters, digits, dots, dashes, underscores and spaces inside; no separator and no leading dot, so no way out. */
const plainName = /^[\p{L}\p{N}](?:[\p{L}\p{N}._ -]{0,78}[\p{L}\p{N}_-])?$/u;

function checkPlainName(what: string, name: string): void {
  if (!plainName.test(name) || name.includes("..")) {
    throw new BenchError(
      400,
      `"${name}" can't be the name of a ${what}: use letters, digits, dashes, underscores and single dots, at most 80 characters.`,
    );
  }
}

/** The real path of `path`, which must exist and lie inside `folder` after every link is followed. */
async function insideFolder(folder: string, path: string, what: string, name: string): Promise<string> {
  let real: string;
  let realFolder: string;
  try {
    [realFolder, real] = await Promise.all([realpath(folder), realpath(path)]);
  } catch (error) {
    throw new BenchError(404, `There is no ${what} "${name}" in ${folder}.`, { cause: error });
  }
  if (!real.startsWith(realFolder + sep)) {
    throw new BenchError(
      403,
      `The ${what} "${name}" is a link that leads out of ${folder}; the bench doesn't follow it.`,
    );
  }
  return real;
}

/** Where trials lie. */
export function trialsFolder(root: string): string {
  return join(root, "experiments");
}

/** Where notebooks lie. */
export function notebooksFolder(root: string): string {
  return join(root, "notebooks");
}

/** The folder of an existing trial. */
export async function trialPath(root: string, name: string): Promise<string> {
  checkPlainName("trial", name);
  return insideFolder(trialsFolder(root), join(trialsFolder(root), name), "trial", name);
}

/** Refuses a name that a new trial can't have. */
export function checkNewTrialName(name: string): void {
  checkPlainName("trial", name);
}

/** The file of an existing notebook; `name` is without ".ts". */
export async function notebookPath(root: string, name: string): Promise<string> {
  checkPlainName("notebook", name);
  const folder = notebooksFolder(root);
  return insideFolder(folder, join(folder, `${name}.ts`), "notebook", name);
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && "code" in error && error.code === "ENOENT";
}

/** The names of all folders among the trials, whether they can be opened or not. */
export async function trialFolderNames(root: string): Promise<readonly string[]> {
  try {
    const entries = await readdir(trialsFolder(root), { withFileTypes: true });
    return entries.filter((entry) => !entry.isFile()).map(({ name }) => name);
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
}

/** The names of all notebooks, sorted; none where there is no folder. */
export async function notebookNames(root: string): Promise<readonly string[]> {
  try {
    const files = await readdir(notebooksFolder(root));
    return files
      .filter((file) => file.endsWith(".ts") && !file.endsWith(".d.ts"))
      .map((file) => file.slice(0, -".ts".length))
      .filter((name) => plainName.test(name))
      .sort((a, b) => a.localeCompare(b, "en"));
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
}
