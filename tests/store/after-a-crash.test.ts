import { cp, readFile, rm, truncate, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { formatReadings, openTrial, record, takeBackVoid, voidReading } from "../../src/store/index.ts";
import { deadLock, edit, lines, recorded } from "./changed-folder.ts";
import { freshRoot, steadyClock } from "./sample-trial.ts";

describe("a crash", () => {
  it("at any byte of the journal's last line leaves the trial as it was before or after that line", async () => {
    const { folder, readings } = await recorded();
    const now = steadyClock();
    await takeBackVoid(folder, { run: 1, response: "Ra", spot: 1, repeat: 2 }, "", { now });
    const before = await readFile(join(folder, "readings.csv"));
    await voidReading(folder, { run: 1, response: "Ra", spot: 1, repeat: 2 }, "chip under the stylus", {
      now,
    });
    const journal = await readFile(join(folder, "journal.ndjson"));
    const lastLine = journal.lastIndexOf(10, journal.length - 2) + 1;
    const copy = join(await freshRoot(), "copy");
    // Every 7th byte, and each of those around the ends of the line.
    const cuts = Array.from({ length: journal.length - lastLine + 1 }, (_, index) => lastLine + index);
    for (const cut of cuts.filter((at, index) => index % 7 === 0 || index < 3 || at > journal.length - 3)) {
      await cp(folder, copy, { recursive: true });
      await truncate(join(copy, "journal.ndjson"), cut);
      // The file is written after the journal.
      await writeFile(join(copy, "readings.csv"), before);
      await deadLock(copy);
      const trial = await openTrial(copy);
      const isWhole = cut >= journal.length - 1;
      expect(trial.readings[1].void).toBe(isWhole ? "chip under the stylus" : "");
      expect(await readFile(join(copy, "readings.csv"), "utf8")).toBe(formatReadings(trial.readings));
      expect(trial.readings).toHaveLength(readings.length);
      await rm(copy, { recursive: true });
    }
  });

  it.each(["before the lock was known", "with the lock left behind"])(
    "between journal and file %s has the file written again",
    async (how) => {
      const { folder } = await recorded();
      const old = await readFile(join(folder, "readings.csv"));
      await record(folder, [{ run: 2, response: "Ra", value: 1.1 }]);
      await writeFile(join(folder, "readings.csv"), old);
      if (how.startsWith("with")) await deadLock(folder);
      else await utimes(join(folder, "readings.csv"), 1e9, 1e9);
      const trial = await openTrial(folder);
      expect(trial.readings.map((reading) => reading.void)).toEqual(["", "chip under the stylus", "", ""]);
      expect(await readFile(join(folder, "readings.csv"), "utf8")).toBe(formatReadings(trial.readings));
    },
  );

  it("does not hide an edit by hand: what the file adds is taken, what it lacks is kept", async () => {
    const { folder } = await recorded();
    const old = await readFile(join(folder, "readings.csv"), "utf8");
    await record(folder, [{ run: 2, response: "Ra", value: 1.1 }]);
    await writeFile(join(folder, "readings.csv"), `${old}3,Ra,0.9,µm,1,1,,,\n`);
    await deadLock(folder);
    const trial = await openTrial(folder);
    expect(trial.readings.map(({ run, void: why }) => [run, why])).toEqual([
      [1, ""],
      [1, "chip under the stylus"],
      [1, ""],
      [2, ""],
      [3, ""],
    ]);
  });

  it("is remembered while an edit by hand is refused", async () => {
    const { folder } = await recorded();
    const old = await readFile(join(folder, "readings.csv"), "utf8");
    await record(folder, [{ run: 2, response: "Ra", value: 1.1 }]);
    await writeFile(join(folder, "readings.csv"), `${old}9,Ra,0.9,µm,1,1,,,\n`);
    await deadLock(folder);
    await expect(openTrial(folder)).rejects.toThrow("the plan has no run 9");
    await edit(folder, "readings.csv", () => old);
    expect((await openTrial(folder)).readings.at(-1)).toMatchObject({ run: 2, value: 1.1, void: "" });
  });

  it("or a hand that took a file away has it written again", async () => {
    const { folder, readings } = await recorded();
    for (const name of ["trial.json", "plan.csv", "as-cut.csv", "readings.csv"]) await rm(join(folder, name));
    const trial = await openTrial(folder);
    expect(trial.readings).toEqual(readings);
    expect((await openTrial(folder)).checksum).toBe(trial.checksum);
    expect((await lines(folder, "readings.csv")).length).toBe(4);
  });

  it("that damaged the journal's middle is refused with its line, and the way out works", async () => {
    const { folder, readings } = await recorded();
    await edit(folder, "journal.ndjson", (text) => text.replace("0.8,", "0.7,"));
    await expect(openTrial(folder)).rejects.toThrow(
      "journal.ndjson line 2: the line does not match its checksum. Nothing was changed.",
    );
    await rm(join(folder, "journal.ndjson"));
    expect((await openTrial(folder)).readings).toEqual(readings);
  });

  it("is not seen in a journal that an editor saved with other line ends or without the last one", async () => {
    const { folder, readings } = await recorded();
    await edit(folder, "journal.ndjson", (text) => text.trimEnd().replaceAll("\n", "\r\n"));
    expect((await openTrial(folder)).readings).toEqual(readings);
    await record(folder, [{ run: 2, response: "Ra", value: 1.1 }]);
    expect((await openTrial(folder)).readings).toHaveLength(4);
  });

  it("that lost a line of the journal is refused", async () => {
    const { folder } = await recorded();
    await edit(folder, "journal.ndjson", (text) =>
      text
        .split("\n")
        .filter((_, index) => index !== 2)
        .join("\n"),
    );
    await expect(openTrial(folder)).rejects.toThrow(
      "journal.ndjson line 3: the line has number 4, expected 3.",
    );
  });
});
