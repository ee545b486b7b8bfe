import { spawnSync } from "node:child_process";
import { readdir, utimes, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lockFile, takeLock } from "../../src/store/lock.ts";
import { freshRoot } from "./sample-trial.ts";

const impatient = { patienceMilliseconds: 50 };

/** The number of a process that ran and ended. */
function deadPid(): number {
  return spawnSync(process.execPath, ["-e", ""]).pid;
}

async function lockedFolder(owner: object | string, ageSeconds = 0): Promise<string> {
  const folder = await freshRoot();
  const path = join(folder, lockFile);
  await writeFile(path, typeof owner === "string" ? owner : JSON.stringify(owner));
  const then = Date.now() / 1000 - ageSeconds;
  await utimes(path, then, then);
  return folder;
}

const owner = {
  pid: process.pid,
  host: hostname(),
  token: "4f1c9d5e-0000-4000-8000-000000000000",
  since: Date.now(),
};

describe("takeLock", () => {
  it("gives the lock to one at a time and leaves nothing behind", async () => {
    const folder = await freshRoot();
    const first = await takeLock(folder);
    await expect(takeLock(folder, impatient)).rejects.toThrow(
      `process ${process.pid} on ${hostname()} has been writing to this trial for too long`,
    );
    await first.release();
    const second = await takeLock(folder, impatient);
    expect(second.afterCrash).toBe(false);
    await second.release();
    expect(await readdir(folder)).toEqual([]);
  });

  it("takes the lock of a process that is gone, and says so", async () => {
    const folder = await lockedFolder({ ...owner, pid: deadPid() });
    const lock = await takeLock(folder, impatient);
    expect(lock.afterCrash).toBe(true);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
  });

  it("takes a lock from before the computer was started, whoever bears its number now", async () => {
    const lock = await takeLock(await lockedFolder({ ...owner, since: 1 }), impatient);
    expect(lock.afterCrash).toBe(true);
  });

  it("waits for another computer, and takes its lock when it is five minutes old", async () => {
    const elsewhere = { ...owner, host: "the-other-computer", pid: deadPid() };
    await expect(takeLock(await lockedFolder(elsewhere, 60), impatient)).rejects.toThrow(
      "on the-other-computer has been writing",
    );
    const lock = await takeLock(await lockedFolder(elsewhere, 301), impatient);
    expect(lock.afterCrash).toBe(true);
  });

  it("waits ten seconds for the owner of an empty lock to write its name", async () => {
    await expect(takeLock(await lockedFolder("", 1), impatient)).rejects.toThrow(
      "another program has been writing",
    );
    expect((await takeLock(await lockedFolder("", 11), impatient)).afterCrash).toBe(true);
  });

  it("is given to one only, when many find the owner gone", async () => {
    const folder = await lockedFolder({ ...owner, pid: deadPid() });
    let inside = 0;
    let most = 0;
    const crashed = await Promise.all(
      Array.from({ length: 12 }, async () => {
        const lock = await takeLock(folder);
        most = Math.max(most, ++inside);
        await new Promise((resolve) => setTimeout(resolve, 3));
        inside--;
        await lock.release();
        return lock.afterCrash;
      }),
    );
    expect(most).toBe(1);
    // And the first of them is told of the crash, whoever else saw it.
    expect(crashed.filter(Boolean).length).toBe(1);
  });

  it("follows a process that died while it was removing a dead one's lock", async () => {
    const folder = await lockedFolder({ ...owner, pid: deadPid() });
    const right = { ...owner, pid: deadPid(), token: "4f1c9d5e-0000-4000-8000-000000000001" };
    await writeFile(join(folder, `${lockFile}.${owner.token}`), JSON.stringify(right));
    const lock = await takeLock(folder);
    expect(lock.afterCrash).toBe(true);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
  });
});
