import { rm } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createTrial, openTrial, record } from "../../src/store/index.ts";
import { edit, lines, recorded } from "./changed-folder.ts";
import { freshRoot, sampleRuns, sampleSpec } from "./sample-trial.ts";

describe("openTrial", () => {
  it("gives back what was made and recorded, with the typed digits", async () => {
    const { folder } = await recorded();
    const trial = await openTrial(folder);
    expect(trial.name).toBe("seal-face");
    expect(trial.runs).toEqual(sampleRuns);
    expect(trial.readings.map(({ value, unit, repeat, text }) => [value, unit, repeat, text])).toEqual([
      [0.8, "µm", 1, "0.80"],
      [31, "µin", 2, undefined],
      [0.85, "µm", 3, undefined],
    ]);
    expect(trial.readings[1].void).toBe("chip under the stylus");
    expect(trial.notices).toEqual([]);
    expect(await lines(folder, "readings.csv")).toEqual([
      "run,response,value,unit,spot,repeat,taken,note,void",
      "1,Ra,0.80,µm,1,1,2026-11-25T09:00:00.000Z,,",
      "1,Ra,31,µin,1,2,2026-11-25T09:00:02.000Z,,chip under the stylus",
      "1,Ra,0.85,µm,1,3,2026-11-25T09:00:04.000Z,,",
    ]);
  });

  it("refuses a folder without a trial, and a name outside the root", async () => {
    const root = await freshRoot();
    await expect(openTrial("nothing", { root })).rejects.toThrow(
      "there is no trial here; expected a folder with a trial.json. Check the name.",
    );
    await expect(openTrial("../etc", { root })).rejects.toThrow('"../etc" lies outside');
    await expect(openTrial("/etc", { root })).rejects.toThrow('"/etc" lies outside');
  });

  it("opens a folder that somebody made by hand, and begins its journal at the first change", async () => {
    const root = await freshRoot();
    const { folder } = await createTrial(root, "by-hand", sampleSpec, sampleRuns);
    await rm(join(folder, "journal.ndjson"));
    await rm(join(folder, "as-cut.csv"));
    await edit(folder, "readings.csv", (text) => `${text}1,Ra,0.8,um,,,,,\n1,Ra,0.82,um,,,,,\n`);
    const trial = await openTrial(folder);
    expect(trial.readings.map(({ unit, spot, repeat }) => [unit, spot, repeat])).toEqual([
      ["µm", 1, 1],
      ["µm", 1, 2],
    ]);
    await record(folder, [{ run: 2, response: "Ra", value: 1.1 }]);
    expect((await openTrial(folder)).readings).toHaveLength(3);
    expect((await lines(folder, "journal.ndjson")).map((line) => /"kind":"([^"]*)"/.exec(line)?.[1])).toEqual(
      ["adopted", "recorded"],
    );
  });
});
