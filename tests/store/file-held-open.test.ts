import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import type * as AtomicWrite from "../../src/store/atomic-write.ts";
import { openTrial, record } from "../../src/store/index.ts";
import { sampleTrial } from "./sample-trial.ts";

// Windows refuses to rename over a file that a spreadsheet holds open; here the refusal is made.
const held = vi.hoisted(() => ({ file: "" }));
vi.mock("../../src/store/atomic-write.ts", async (original) => {
  const real = await original<typeof AtomicWrite>();
  return {
    ...real,
    writeAtomically: async (path: string, content: string) => {
      if (held.file !== "" && path.endsWith(held.file))
        throw Object.assign(new Error("EBUSY"), { code: "EBUSY" });
      await real.writeAtomically(path, content);
    },
  };
});

describe("a reading recorded while readings.csv is open in a spreadsheet", () => {
  it("is safe in the journal, is not taken for one removed by hand, and reaches the file later", async () => {
    const { folder } = await sampleTrial();
    const path = join(folder, "readings.csv");
    await record(folder, [{ run: 1, response: "Ra", value: 0.8 }]);
    const before = await readFile(path, "utf8");
    held.file = "readings.csv";
    const kept = await record(folder, [{ run: 2, response: "Ra", value: 1.6 }]);
    expect(kept.kind === "recorded" ? kept.trial.notices : kept).toEqual([
      "readings.csv is open in another program: the change is safe in the journal, and the file is written when the trial is next opened.",
    ]);
    expect(await readFile(path, "utf8")).toBe(before);
    expect((await openTrial(folder)).readings.map((reading) => [reading.run, reading.void])).toEqual([
      [1, ""],
      [2, ""],
    ]);
    held.file = "";
    expect((await openTrial(folder)).notices).toEqual([]);
    expect(await readFile(path, "utf8")).toContain("\n2,Ra,1.6,µm,");
  });
});
