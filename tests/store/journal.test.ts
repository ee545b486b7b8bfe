import fc from "fast-check";
import { describe, expect, it, vi } from "vitest";
import { noteAsCut, openTrial, readJournal, record, voidReading } from "../../src/store/index.ts";
import type { Entry } from "../../src/store/journal-change.ts";
import { keyRow, rowOf } from "../../src/store/journal-readings.ts";
import { emptyState, replayed } from "../../src/store/replay.ts";
import { replayAll } from "../../src/store/replay-all.ts";
import { edit } from "./changed-folder.ts";
import { sampleTrial, steadyClock } from "./sample-trial.ts";

const readOnly = vi.hoisted(() => ({ is: false }));
vi.mock("../../src/store/lock.ts", async (original) => {
  const real = await original<Record<string, unknown>>();
  const takeLock = real.takeLock as (...args: unknown[]) => unknown;
  return {
    ...real,
    takeLock: (...args: unknown[]) => {
      if (readOnly.is) throw Object.assign(new Error("EROFS"), { code: "EROFS" });
      return takeLock(...args);
    },
  };
});

describe("readJournal", () => {
  it("tells the history of a trial in words", async () => {
    const { folder } = await sampleTrial();
    const now = steadyClock();
    await record(
      folder,
      [1, 2].map((run) => ({ run, response: "Ra", value: 0.8 })),
      { now },
    );
    await voidReading(folder, { run: 1, response: "Ra", spot: 1, repeat: 1 }, "chip", { now });
    await noteAsCut(folder, [{ run: 2, factor: "feed", value: 0.15, reason: "dial" }], { now });
    await edit(folder, "readings.csv", (text) => text.replace(",0.8,", ",0.9,"));
    await openTrial(folder, { now });
    expect((await readJournal(folder)).map(({ sequence, kind, text }) => [sequence, kind, text])).toEqual([
      [1, "created", "made with 8 runs and 0 readings"],
      [2, "recorded", "2 readings recorded"],
      [3, "voided", "1 reading voided: chip"],
      [4, "cut-otherwise", "1 setting noted as cut"],
      [5, "edited-by-hand", "readings.csv edited by hand: 1 reading changed"],
    ]);
  });
});

describe("replayAll", () => {
  it("is the same as one entry after the other", () => {
    const step = fc.record({ record: fc.boolean(), count: fc.integer({ min: 0, max: 3 }), which: fc.nat() });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let state = emptyState;
        const entries = steps.map(({ record: isRecord, count, which }, index): Entry => {
          const readings = Array.from({ length: count }, (_, at) =>
            rowOf({
              run: 1,
              response: "Ra",
              value: which,
              unit: "µm",
              spot: index + 1,
              repeat: at + 1,
              taken: "",
              note: "",
              void: "",
            }),
          );
          const target = state.readings[which % Math.max(1, state.readings.length)];
          const keys = target === undefined ? [] : [[...keyRow(target)] as [number, string, number, number]];
          const change: Entry["change"] = isRecord
            ? { kind: "recorded", readings, note: "" }
            : { kind: "voided", readings: keys, reason: "chip" };
          const entry = { sequence: index + 1, at: "", change, files: { "readings.csv": String(index) } };
          state = replayed(state, entry);
          return entry;
        });
        expect(replayAll(entries)).toEqual(state);
      }),
      { seed: 20261125 },
    );
  });
});

describe("a folder that can't be written to", () => {
  it("is read all the same, edits by hand with it", async () => {
    const { folder } = await sampleTrial();
    await record(folder, [{ run: 1, response: "Ra", value: 0.8 }]);
    await edit(folder, "readings.csv", (text) => text.replace(",0.8,", ",0.9,"));
    readOnly.is = true;
    try {
      const { readings, notices } = await openTrial(folder);
      expect(readings[0].value).toBe(0.9);
      expect(notices).toEqual([
        "readings.csv was edited by hand: 1 reading changed. The folder can't be written to.",
      ]);
      await expect(record(folder, [{ run: 1, response: "Ra", value: 1 }])).rejects.toThrow("EROFS");
    } finally {
      readOnly.is = false;
    }
  });
});
