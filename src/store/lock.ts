import { randomUUID } from "node:crypto";
import { link, open, readFile, rename, stat, unlink, writeFile } from "node:fs/promises";
import { hostname, uptime } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { storeError } from "./error.ts";
import { isMissing } from "./journal-file.ts";

export const lockFile = ".writing.lock";

/** The right to change a folder, held by one process at a time. */
export interface Lock {
  /** True where the last owner died while it was writing. */
  readonly afterCrash: boolean;
  readonly release: () => Promise<void>;
}

interface Owner {
  readonly pid: number;
  readonly host: string;
  readonly token: string;
  /** Milliseconds since 1970. */
  readonly since: number;
}

/** A lock of another computer can't be asked after; a write takes far less than a second. */
const foreignLockMilliseconds = 5 * 60_000;

export interface LockOptions {
  /** How long to wait for another writer. */
  readonly patienceMilliseconds?: number;
}

/**
 * Waits for the folder's lock and takes it: a file that holds the owner's process number. It is taken over from an owner
 * that is no longer alive (killed, or gone with the last start of the computer; on another computer, five minutes old).
 * Works between processes on one disk on Linux, macOS and Windows. Refused: another writer that does not finish in time.
 */
export async function takeLock(
  folder: string,
  { patienceMilliseconds = 15_000 }: LockOptions = {},
): Promise<Lock> {
  const path = join(folder, lockFile);
  const until = Date.now() + patienceMilliseconds;
  for (let pause = 1; ; pause = Math.min(pause * 2, 4)) {
    const owner = await readOwner(path);
    const taken =
      owner === "none" ? await claim(path) : (await isGone(path, owner)) ? await takeOver(path, owner) : null;
    if (taken !== null) return { afterCrash: owner !== "none", release: () => giveBack(path, taken) };
    if (Date.now() > until) throw busy(path, owner === "none" ? "unreadable" : owner);
    // Writers that wait must not wake in step.
    await wait(pause * (1 + (process.pid % 7) / 7));
  }
}

/** Whether somebody holds, or died holding, the folder's lock. */
export async function isLocked(folder: string): Promise<boolean> {
  return stat(join(folder, lockFile)).then(
    () => true,
    () => false,
  );
}

/** Makes the lock file with its contents in one step, by a hard link, so that nobody sees it empty. The token, if it is ours. */
async function claim(path: string): Promise<string | null> {
  const { owner, beside, text } = await ownFile(path);
  try {
    await link(beside, path);
    return owner.token;
  } catch (cause) {
    // ENOENT: the owner of the lock swept our file away, taking it for a dead process's.
    if (["EEXIST", "ENOENT"].includes(codeOf(cause))) return null;
    // A disk without hard links (FAT, some network shares): the name is claimed first and filled a moment later.
    if (["EPERM", "ENOTSUP", "ENOSYS", "EOPNOTSUPP", "EMLINK"].includes(codeOf(cause)))
      return claimByName(path, owner, text);
    throw cause;
  } finally {
    await unlink(beside).catch(() => undefined);
  }
}

async function ownFile(
  path: string,
): Promise<{ readonly owner: Owner; readonly beside: string; readonly text: string }> {
  const owner: Owner = { pid: process.pid, host: hostname(), token: randomUUID(), since: Date.now() };
  const beside = `${path}.${owner.token}.tmp`;
  const text = JSON.stringify(owner);
  await writeFile(beside, text, { flag: "wx" });
  return { owner, beside, text };
}

async function claimByName(path: string, owner: Owner, text: string): Promise<string | null> {
  try {
    const file = await open(path, "wx");
    await file.writeFile(text).finally(() => file.close());
    return owner.token;
  } catch (cause) {
    if (codeOf(cause) === "EEXIST") return null;
    throw cause;
  }
}

async function readOwner(path: string): Promise<Owner | "none" | "unreadable"> {
  try {
    const owner = JSON.parse(await readFile(path, "utf8")) as Partial<Owner> | null;
    const whole =
      typeof owner?.pid === "number" && typeof owner.host === "string" && typeof owner.token === "string";
    return whole
      ? {
          pid: owner.pid,
          host: owner.host,
          token: owner.token,
          since: owner.since ?? 0,
        }
      : "unreadable";
  } catch (cause) {
    return isMissing(cause) ? "none" : "unreadable";
  }
}

async function isGone(path: string, owner: Owner | "unreadable"): Promise<boolean> {
  if (owner === "unreadable") return (await ageMilliseconds(path)) > 10_000;
  if (owner.host !== hostname()) return (await ageMilliseconds(path)) > foreignLockMilliseconds;
  // A process number can be given anew after a restart of the computer.
  if (owner.since < Date.now() - uptime() * 1000 - 2000) return true;
  return !isAlive(owner.pid);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (cause) {
    return codeOf(cause) !== "ESRCH";
  }
}

async function ageMilliseconds(path: string): Promise<number> {
  return stat(path).then(
    ({ mtimeMs }) => Date.now() - mtimeMs,
    () => 0,
  );
}

/**
 * Puts our name in the place of an owner that is gone, in one step, so that nobody comes in between and misses that there
 * was a crash. Only the process that holds the right to replace exactly this lock may do so, and it looks again first:
 * else two that wait could each replace a lock, the second one a live one. The right is a lock itself, named after the
 * dead owner's token; a holder of it that died is followed in the same way.
 */
async function takeOver(path: string, owner: Owner | "unreadable"): Promise<string | null> {
  const right = `${path}.${owner === "unreadable" ? "unreadable" : owner.token}`;
  const holder = await readOwner(right);
  const held =
    holder === "none"
      ? await claim(right)
      : (await isGone(right, holder))
        ? await takeOver(right, holder)
        : null;
  if (held === null) return null;
  try {
    const now = await readOwner(path);
    const same =
      now === "unreadable" || now === "none"
        ? now === owner
        : owner !== "unreadable" && now.token === owner.token;
    if (!same || !(await isGone(path, owner))) return null;
    const own = await ownFile(path);
    await rename(own.beside, path);
    return own.owner.token;
  } finally {
    await giveBack(right, held);
  }
}

async function giveBack(path: string, token: string): Promise<void> {
  const owner = await readOwner(path);
  if (typeof owner === "object" && owner.token === token) await unlink(path);
}

function busy(path: string, owner: Owner | "unreadable"): Error {
  const who = owner === "unreadable" ? "another program" : `process ${owner.pid} on ${owner.host}`;
  return storeError(
    { file: lockFile },
    `${who} has been writing to this trial for too long; nothing was written. Try again; if no such program runs any more, remove ${path}.`,
  );
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && "code" in cause ? String(cause.code) : "";
}
