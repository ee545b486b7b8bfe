import { spawnSync } from "node:child_process";
import { readFile, utimes, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { record, voidReading, type TrialFolder } from "../../src/store/index.ts";
import { lockFile } from "../../src/store/lock.ts";
import { sampleTrial, steadyClock } from "./sample-trial.ts";

/** A trial with three readings, the second one void. */
export async function recorded(): Promise<TrialFolder> {
  const { folder } = await sampleTrial();
  const now = steadyClock();
  for (const value of ["0.80", "31 µin", 0.85])
    await record(folder, [{ run: 1, response: "Ra", value }], { now });
  return voidReading(folder, { run: 1, response: "Ra", spot: 1, repeat: 2 }, "chip under the stylus", {
    now,
  });
}

export async function edit(folder: string, file: string, change: (text: string) => string): Promise<void> {
  const path = join(folder, file);
  await writeFile(path, change(await readFile(path, "utf8")));
  // An editor saves later than the journal was written, though not always by a whole tick of the disk's clock.
  const later = Date.now() / 1000 + 2;
  await utimes(path, later, later);
}

export async function lines(folder: string, file: string): Promise<readonly string[]> {
  return (await readFile(join(folder, file), "utf8")).trimEnd().split("\n");
}

export async function deadLock(folder: string): Promise<void> {
  const { pid } = spawnSync(process.execPath, ["-e", ""]);
  const owner = { pid, host: hostname(), token: "4f1c9d5e-0000-4000-8000-000000000000", since: Date.now() };
  await writeFile(join(folder, lockFile), JSON.stringify(owner));
}
