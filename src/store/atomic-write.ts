import { randomUUID } from "node:crypto";
import { open, readdir, rename, unlink } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";

// Files beside those they were to replace, and rights to remove a lock whose holder died: see lock.ts.
const temporary = /^\..+\.[0-9a-f-]{36}\.tmp$|^\.writing\.lock\../;

/**
 * Writes a file whole or not at all: into a file beside it, synced, then renamed over it, then the folder synced. At any
 * moment of a crash the file is the old one or the new one.
 */
export async function writeAtomically(path: string, content: string | Uint8Array): Promise<void> {
  const beside = join(dirname(path), `.${basename(path)}.${randomUUID()}.tmp`);
  try {
    const file = await open(beside, "wx");
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await renameOver(beside, path);
  } catch (cause) {
    await unlink(beside).catch(() => undefined);
    throw cause;
  }
  await syncFolder(dirname(path));
}

/** Windows refuses to rename over a file that a virus scanner or a spreadsheet has open for a moment. */
async function renameOver(from: string, to: string): Promise<void> {
  for (let attempt = 1; ; attempt++) {
    try {
      await rename(from, to);
      return;
    } catch (cause) {
      if (attempt === 6 || !isOpenElsewhere(cause)) throw cause;
      await wait(10 * 2 ** attempt);
    }
  }
}

/** Whether writing failed because another program holds the file. */
export function isOpenElsewhere(cause: unknown): boolean {
  return (
    cause instanceof Error && "code" in cause && ["EPERM", "EACCES", "EBUSY"].includes(String(cause.code))
  );
}

/** Makes a rename or a new name in a folder last. Windows has no such call, and needs none. */
export async function syncFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, "r");
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (cause) {
    const code = cause instanceof Error && "code" in cause ? cause.code : "";
    if (!["EISDIR", "EPERM", "EACCES", "EINVAL", "EBADF", "ENOTSUP"].includes(String(code))) throw cause;
  }
}

/** Takes away what a killed process left half-written. Only for the owner of the folder's lock. */
export async function sweepTemporary(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (temporary.test(name)) await unlink(join(folder, name)).catch(() => undefined);
  }
}
