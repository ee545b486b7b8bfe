import { spawn } from "node:child_process";
import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { seededRandom } from "../../src/numerics/index.ts";
import { formatReadings, openTrial, record } from "../../src/store/index.ts";
import { bundledStore } from "./bundled-store.ts";
import { sampleTrial } from "./sample-trial.ts";

const kills = 200;
const seed = 20261125;
const files = ["as-cut.csv", "journal.ndjson", "plan.csv", "readings.csv", "trial.json"];
const worker = fileURLToPath(new URL("record-forever.mjs", import.meta.url));

/** Starts a recorder, kills it `afterMilliseconds` after its first acknowledgement, and returns what it acknowledged. */
async function recordUntilKilled(
  library: string,
  folder: string,
  from: number,
  afterMilliseconds: number,
): Promise<readonly number[]> {
  const child = spawn(process.execPath, [worker, library, folder, String(from)], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  let [out, err] = ["", ""];
  child.stderr.on("data", (data: Buffer) => (err += data.toString()));
  child.stdout.on("data", (data: Buffer) => {
    if (out === "") setTimeout(() => child.kill("SIGKILL"), afterMilliseconds);
    out += data.toString();
  });
  const signal = await new Promise((resolve) => child.on("close", (_, by) => resolve(by)));
  expect(err).toBe("");
  expect(signal).toBe("SIGKILL");
  // A line that was cut off while it was printed was acknowledged all the same, but can't be read.
  return out.split("\n").slice(0, -1).map(Number);
}

describe("a recorder that is killed with SIGKILL at any moment", () => {
  let library = "";
  beforeAll(async () => {
    library = await bundledStore();
  }, 60_000);

  it(`loses no acknowledged reading in ${kills} kills, and every file opens again`, async () => {
    // Two at a time, each with trials of its own: the machine has two cores, and a recorder mostly starts.
    const lanes = await Promise.all([1, 2].map((lane) => killAgainAndAgain(library, kills / 2, seed + lane)));
    // Else the kills would all have fallen between writes, and nothing been shown.
    expect(lanes[0] + lanes[1]).toBeGreaterThan(kills / 2);
  }, 240_000);
});

/** Returns how many of the kills fell in the midst of a write. */
async function killAgainAndAgain(library: string, times: number, laneSeed: number): Promise<number> {
  const random = seededRandom(laneSeed);
  let next = 0;
  let acknowledged: number[] = [];
  let interrupted = 0;
  let { folder } = await sampleTrial();
  for (let kill = 0; kill < times; kill++) {
    // A new trial now and then keeps the files as small as they are in a shop.
    if (kill % 20 === 0) {
      ({ folder } = await sampleTrial());
      acknowledged = [];
    }
    acknowledged.push(...(await recordUntilKilled(library, folder, next, random.next() * 40)));
    interrupted += (await readdir(folder)).includes(".writing.lock") ? 1 : 0;
    const trial = await openTrial(folder);
    const kept = new Set(trial.readings.map((reading) => Number(reading.note.slice(1))));
    expect(acknowledged.filter((value) => !kept.has(value))).toEqual([]);
    // Nothing is there that was not sent, nothing twice, nothing was taken for an edit by hand.
    expect(kept.size).toBe(trial.readings.length);
    expect(trial.readings.filter((reading) => reading.void !== "")).toEqual([]);
    expect(trial.notices).toEqual([]);
    expect(await readFile(join(folder, "readings.csv"), "utf8")).toBe(formatReadings(trial.readings));
    expect((await readdir(folder)).filter((name) => !name.startsWith(".")).sort()).toEqual(files);
    next = Math.max(next, ...kept) + 1;
  }
  // What the killed left half-made is swept away at the next write.
  await record(folder, [{ run: 1, response: "Ra", value: 0.8 }]);
  expect((await readdir(folder)).sort()).toEqual(files);
  return interrupted;
}
