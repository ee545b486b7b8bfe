import { readdir, realpath } from "node:fs/promises";
import { basename, isAbsolute, join, relative, resolve } from "node:path";
import { quoted, storeError } from "./error.ts";
import { isMissing } from "./journal-file.ts";

// Windows keeps these for devices, with any ending.
const devices = /^(?:con|prn|aux|nul|com[0-9]|lpt[0-9]|conin\$|conout\$)(?:\.|$)/i;

/** Why a name can't be a trial's folder on every system, with a name that can; null where it can. */
export function whyNotAFolder(name: string): string | null {
  const fine =
    /^[A-Za-z0-9][A-Za-z0-9._-]*$/.test(name) &&
    !name.endsWith(".") &&
    name.length <= 80 &&
    !devices.test(name);
  return fine && !name.toLowerCase().endsWith(".tmp")
    ? null
    : `got the name ${quoted(name)}; expected at most 80 letters (a to z), digits, "-" and "_". Write ${quoted(safeName(name))}.`;
}

/** A folder's name made of a title. @example safeName("Seal face: feed & edge") // "seal-face-feed-edge" */
export function safeName(title: string): string {
  const plain = title
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9_]+/g, "-")
    .replace(/^[-_]+|-+$/g, "")
    .slice(0, 80)
    .replace(/-+$/, "");
  if (plain === "") return "trial";
  return devices.test(plain) ? `trial-${plain}` : plain;
}

/** A folder of this name in the root, as it is to be made. Refused: unsafe names, and one that is there, in any capitals. */
export async function newFolderIn(root: string, name: string): Promise<string> {
  const why = whyNotAFolder(name);
  if (why !== null) throw storeError({ field: "name" }, why);
  const there = await readdir(root).catch((cause: unknown) => {
    if (isMissing(cause)) return [];
    throw cause;
  });
  const same = there.find((other) => other.toLowerCase() === name.toLowerCase());
  if (same !== undefined)
    throw storeError(
      { file: join(root, same) },
      "the folder is there already; nothing was changed. Choose another name.",
    );
  return join(root, name);
}

export interface FolderOptions {
  /** Where the trials are; with it, nothing outside is opened. Default: `experiments` in the working folder. */
  readonly root?: string;
}

/**
 * The folder of a trial, from its name in the root, or, where no root is given, from a path as well. Refused: what lies
 * outside a given root, by dots or by a link.
 */
export async function trialFolder(nameOrFolder: string, { root }: FolderOptions = {}): Promise<string> {
  if (nameOrFolder.trim() === "" || nameOrFolder.includes("\0")) {
    throw storeError(
      { field: "name" },
      `got the name ${quoted(nameOrFolder)}; expected the name of a trial.`,
    );
  }
  const isPath = isAbsolute(nameOrFolder) || /[\\/]/.test(nameOrFolder) || nameOrFolder.startsWith(".");
  if (root === undefined) return isPath ? resolve(nameOrFolder) : resolve("experiments", nameOrFolder);
  const folder = resolve(root, nameOrFolder);
  await checkInside(root, folder, nameOrFolder);
  return folder;
}

async function checkInside(root: string, folder: string, given: string): Promise<void> {
  const real = async (path: string): Promise<string> => realpath(path).catch(() => resolve(path));
  const [realRoot, realFolder] = await Promise.all([real(root), real(folder)]);
  const way = relative(realRoot, realFolder);
  const inside = way !== "" && !isAbsolute(way) && way.split(/[\\/]/)[0] !== "..";
  if (!inside)
    throw storeError(
      { field: "name" },
      `${quoted(given)} lies outside ${quoted(basename(realRoot))}; expected the name of a trial in it.`,
    );
}
