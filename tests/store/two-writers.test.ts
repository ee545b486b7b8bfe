import { spawn, type ChildProcess } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { formatReadings, openTrial, record } from "../../src/store/index.ts";
import { bundledStore } from "./bundled-store.ts";
import { sampleTrial, steadyClock } from "./sample-trial.ts";

const worker = fileURLToPath(new URL("record-some.mjs", import.meta.url));

/** Starts a writer and waits until it has loaded the library. */
async function writer(library: string, folder: string, name: string, count: number): Promise<ChildProcess> {
  const child = spawn(process.execPath, [worker, library, folder, name, String(count)], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  await new Promise((resolve) => child.stdout.once("data", resolve));
  return child;
}

describe("two processes that write to one trial at once", () => {
  it("both keep all their readings, numbered without gaps", async () => {
    const library = await bundledStore();
    const { folder } = await sampleTrial();
    const writers = await Promise.all(["a", "b"].map((name) => writer(library, folder, name, 40)));
    const ends = writers.map((child) => new Promise((resolve) => child.on("close", (code) => resolve(code))));
    writers.forEach((child) => child.stdin?.write("go\n"));
    expect(await Promise.all(ends)).toEqual([0, 0]);
    const { readings, notices } = await openTrial(folder);
    expect(notices).toEqual([]);
    expect(readings.map((reading) => reading.repeat)).toEqual(
      Array.from({ length: 80 }, (_, index) => index + 1),
    );
    const notes = readings.map((reading) => reading.note);
    for (const name of ["a", "b"]) {
      expect(notes.filter((note) => note.startsWith(name))).toEqual(
        Array.from({ length: 40 }, (_, index) => `${name}-${index + 1}`),
      );
    }
    // They took turns: one did not simply wait for the other's end.
    expect(
      notes.filter((note, index) => index > 0 && note[0] !== notes[index - 1][0]).length,
    ).toBeGreaterThan(2);
    expect(await readFile(join(folder, "readings.csv"), "utf8")).toBe(formatReadings(readings));
  }, 60_000);

  it("and so do many writes of one process", async () => {
    const { folder } = await sampleTrial();
    const now = steadyClock();
    await Promise.all(
      [1, 2, 3, 4, 5, 6, 7, 8].map((run) => record(folder, [{ run, response: "Ra", value: 0.8 }], { now })),
    );
    expect((await openTrial(folder)).readings.map((reading) => reading.run).sort()).toEqual([
      1, 2, 3, 4, 5, 6, 7, 8,
    ]);
  });
});
