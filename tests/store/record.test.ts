import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  addRuns,
  changeSpec,
  layOutTrial,
  noteAsCut,
  openTrial,
  record,
  takeBackVoid,
  trialChecksum,
  voidReading,
  type NewReading,
  type TrialFolder,
} from "../../src/store/index.ts";
import { settingsAsCut } from "../../src/trial/index.ts";
import { frozen } from "../trial/example-spec.ts";
import { sampleRuns, sampleSpec, sampleTrial, steadyClock } from "./sample-trial.ts";

async function recorded(...readings: readonly NewReading[]): Promise<TrialFolder> {
  const { folder } = await sampleTrial();
  const result = await record(folder, frozen(readings), { now: steadyClock() });
  if (result.kind !== "recorded") throw new Error("asked");
  return result.trial;
}

const first = { run: 1, response: "Ra", spot: 1, repeat: 1 };

describe("record", () => {
  it("takes what people type, numbers repeats and spots, and notes the time", async () => {
    const { readings } = await recorded(
      { run: 1, response: "Ra", value: "0,80" },
      { run: 1, response: "Ra", value: "31 uin", note: " fine \r\n" },
      { run: 1, response: "Ra", value: "0.79", spot: 2, taken: "2026-11-24T16:00:00Z" },
      { run: 1, response: "Rz", value: 0.005, unit: "mm", void: "chip" },
    );
    expect(readings).toEqual([
      {
        ...first,
        value: 0.8,
        unit: "µm",
        taken: "2026-11-25T09:00:00.000Z",
        note: "",
        void: "",
        text: "0.80",
      },
      {
        ...first,
        repeat: 2,
        value: 31,
        unit: "µin",
        taken: "2026-11-25T09:00:00.000Z",
        note: "fine",
        void: "",
      },
      { ...first, spot: 2, value: 0.79, unit: "µm", taken: "2026-11-24T16:00:00Z", note: "", void: "" },
      {
        ...first,
        response: "Rz",
        value: 0.005,
        unit: "mm",
        taken: "2026-11-25T09:00:00.000Z",
        note: "",
        void: "chip",
      },
    ]);
  });

  it.each([
    [
      { run: 9, response: "Ra", value: 1 },
      "run 9, run: got run 9; the plan has runs 1 to 8. Check the number; nothing was written.",
    ],
    [{ run: 1, response: "Rb", value: 1 }, 'response: got "Rb"; expected one of Ra, Rz. Did you mean "Ra"?'],
    [
      { run: 1, response: "Ra", value: "o.8" },
      'run 1, Ra: "o.8" is not a quantity: expected a number and a unit, such as "0.8 mm". Nothing was written.',
    ],
    [{ run: 1, response: "Ra", value: "0.8 s" }, 'run 1, Ra: "0.8 s" is a time; expected a length.'],
    [{ run: 1, response: "Ra", value: "1,234" }, 'run 1, Ra: "1,234" can be read in two ways.'],
    [
      { run: 1, response: "Ra", value: Number.NaN },
      "run 1, Ra: got NaN; expected a finite number of µm. Nothing was written.",
    ],
    [
      { run: 1, response: "Ra", value: 1, unit: "bar" },
      "run 1, unit: got bar, which measures pressure; expected a unit of length such as µm.",
    ],
    [
      { run: 1, response: "Ra", value: 1, spot: 0 },
      "run 1, spot: got 0; expected a whole number from 1. Nothing was written.",
    ],
    [
      { run: 1, response: "Ra", value: 1, taken: "noon" },
      'run 1, taken: got "noon"; expected a time such as 2026-11-25T14:05:00Z, or nothing.',
    ],
  ])("refuses %j and writes none of its fellows", async (wrong, message) => {
    const { folder } = await sampleTrial();
    await expect(record(folder, [{ run: 1, response: "Ra", value: 0.8 }, wrong])).rejects.toThrow(message);
    expect((await openTrial(folder)).readings).toEqual([]);
  });

  it("refuses a reading that is there already", async () => {
    const { folder } = await recorded({ run: 1, response: "Ra", value: 0.8 });
    await expect(record(folder, [{ ...first, value: 0.9 }])).rejects.toThrow(
      "run 1, Ra: run 1, Ra, spot 1, repeat 1 is recorded already. Leave the repeat out for a further reading; nothing was written.",
    );
  });

  it("asks about a slip, and writes it as answered or kept with a note", async () => {
    const { folder } = await recorded(
      ...[0.8, 0.82, 0.79].map((value) => ({ run: 1, response: "Ra", value })),
    );
    const typed = [{ run: 1, response: "Ra", value: 31 }];
    const asked = await record(folder, typed);
    expect(asked.kind === "asked" ? asked.questions.map(({ text }) => text) : asked).toEqual([
      'run 1: Ra 31 µm is about 39 times the other readings (0.79 to 0.82 µm). If it is 31 µin, write "31 µin" (0.79 µm).',
    ]);
    expect((await openTrial(folder)).readings).toHaveLength(3);
    const id = asked.kind === "asked" ? asked.questions[0].id : "";
    await expect(record(folder, typed, { answers: { [id]: "maybe" } })).rejects.toThrow(
      '"maybe" is no answer to: run 1: Ra 31 µm',
    );
    await expect(record(folder, typed, { answers: { [id]: "keep" } })).rejects.toThrow(
      "needs a note that says why",
    );
    // Someone else records between question and answer: the answer still finds its reading.
    await record(folder, [{ run: 1, response: "Ra", value: 0.81 }]);
    await record(folder, typed, { answers: { [id]: "write 31 µin" } });
    await record(folder, typed, { force: "the edge had chipped" });
    expect(
      (await openTrial(folder)).readings
        .slice(4)
        .map(({ value, unit, note, repeat }) => [value, unit, note, repeat]),
    ).toEqual([
      [31, "µin", "typed 31 µm", 5],
      [31, "µm", "kept: the edge had chipped", 6],
    ]);
  });
});

describe("voidReading and takeBackVoid", () => {
  it("mark a reading with the reason and take it into use again, once each", async () => {
    const { folder } = await recorded({ run: 1, response: "Ra", value: 0.8 });
    await expect(voidReading(folder, first, " ")).rejects.toThrow("a reading is voided with a reason");
    await expect(voidReading(folder, { ...first, repeat: 2 }, "chip")).rejects.toThrow(
      "there is no reading of run 1, Ra, spot 1, repeat 2.",
    );
    expect((await voidReading(folder, first, "chip")).readings[0].void).toBe("chip");
    await expect(voidReading(folder, first, "chip")).rejects.toThrow(
      "run 1, Ra, spot 1, repeat 1 is void already (chip); nothing was written.",
    );
    expect((await takeBackVoid(folder, first, "it was no chip")).readings[0].void).toBe("");
    await expect(takeBackVoid(folder, first, "")).rejects.toThrow("is in use; nothing was written.");
    expect(await readFile(join(folder, "journal.ndjson"), "utf8")).toContain('"reason":"it was no chip"');
  });
});

describe("the plan", () => {
  it("takes added runs at its end, in a block of their own", async () => {
    const { folder } = await sampleTrial();
    const { runs } = await addRuns(folder, [
      { settings: { feed: 0.15, edge: "used" } },
      { settings: { feed: 0.1, edge: "used" }, role: "proof", block: 1 },
    ]);
    expect(runs.slice(8)).toEqual([
      { run: 9, standard: 9, block: 3, role: "added", settings: { feed: 0.15, edge: "used" } },
      { run: 10, standard: 10, block: 1, role: "proof", settings: { feed: 0.1, edge: "used" } },
    ]);
    await expect(addRuns(folder, [{ settings: { feed: 0.15 } }])).rejects.toThrow(
      "plan.csv, run 11, edge: got nothing",
    );
    await expect(addRuns(folder, [{ settings: { feed: 0.15, edge: "used", depth: 1 } }])).rejects.toThrow(
      "the plan has a setting for depth, which is no factor",
    );
  });

  it("can be laid out anew until the first reading", async () => {
    const { folder } = await sampleTrial();
    expect((await layOutTrial(folder, sampleRuns.slice(0, 2))).runs).toHaveLength(2);
    await record(folder, [{ run: 1, response: "Ra", value: 1 }]);
    await expect(layOutTrial(folder, sampleRuns)).rejects.toThrow(
      "1 reading belongs to the plan as it stands; nothing was written.",
    );
  });

  it("is corrected by what was cut, in any unit, with a reason", async () => {
    const { folder } = await sampleTrial();
    const trial = await noteAsCut(folder, [
      { run: 2, factor: "feed", value: "0.010 in/rev", reason: "the dial is in inches" },
      { run: 2, factor: "edge", value: "used", reason: "the fresh one broke" },
    ]);
    expect(trial.asCut[0]).toEqual({
      run: 2,
      factor: "feed",
      value: 0.01,
      unit: "in/rev",
      reason: "the dial is in inches",
      text: "0.010",
    });
    expect(settingsAsCut(trial, 2)).toEqual({ feed: 0.254, edge: "used" });
    await expect(noteAsCut(folder, [{ run: 2, factor: "feed", value: 0.2, reason: "" }])).rejects.toThrow(
      "is noted with a reason",
    );
    await expect(
      noteAsCut(folder, [{ run: 2, factor: "edge", value: "blunt", reason: "x" }]),
    ).rejects.toThrow('one of "fresh", "used" was expected, got "blunt"; nothing was written.');
    await expect(
      noteAsCut(folder, [{ run: 99, factor: "edge", value: "used", reason: "x" }]),
    ).rejects.toThrow("run 99 is not in the plan");
  });

  it("follows the spec: settings into other units, and nothing that would leave runs or readings behind", async () => {
    const { folder } = await recorded({ run: 1, response: "Rz", value: 4 });
    const inMicrometres = { ...sampleSpec.factors[0], unit: "µm/rev", low: 100, high: 200 };
    const trial = await changeSpec(folder, {
      ...sampleSpec,
      factors: [inMicrometres, sampleSpec.factors[1]],
    });
    expect(trial.runs[1].settings).toEqual({ feed: 200, edge: "fresh" });
    await expect(changeSpec(folder, { ...sampleSpec, responses: [sampleSpec.responses[0]] })).rejects.toThrow(
      "there are readings of Rz",
    );
    await expect(changeSpec(folder, { ...sampleSpec, factors: [inMicrometres] })).rejects.toThrow(
      "the plan has a setting for edge",
    );
    expect((await openTrial(folder)).checksum).toBe(trial.checksum);
  });
});

describe("trialChecksum", () => {
  it("is told by what the trial says, not by how it is written", async () => {
    const trial = await recorded({ run: 1, response: "Ra", value: "0.80" });
    const { spec } = trial;
    const reordered = Object.fromEntries(Object.entries(spec).reverse()) as unknown as typeof spec;
    expect(trialChecksum({ ...trial, spec: reordered })).toBe(trial.checksum);
    expect(trialChecksum({ ...trial, readings: [{ ...trial.readings[0], text: "0.8" }] })).toBe(
      trial.checksum,
    );
    const changes = [
      { readings: [{ ...trial.readings[0], value: 0.81 }] },
      { readings: [{ ...trial.readings[0], void: "x" }] },
      { runs: trial.runs.slice(1) },
      { spec: { ...spec, title: "another" } },
      { asCut: [{ run: 1, factor: "feed", value: 0.1, unit: "mm/rev", reason: "x" }] },
    ];
    expect(
      new Set(changes.map((change) => trialChecksum({ ...trial, ...change })).concat(trial.checksum)).size,
    ).toBe(6);
    expect(trial.checksum).toMatch(/^[0-9a-f]{64}$/);
  });
});

describe("trial.table()", () => {
  it("has a row for each reading, joined with its run as it was cut, in the response's unit", async () => {
    const { folder } = await recorded(
      { run: 2, response: "Ra", value: "31 µin" },
      { run: 3, response: "Rz", value: 4, note: "chuck" },
    );
    await voidReading(folder, { run: 3, response: "Rz", spot: 1, repeat: 1 }, "chip");
    const trial = await noteAsCut(folder, [{ run: 2, factor: "feed", value: 0.21, reason: "dial" }]);
    expect(trial.table().objects()).toEqual([
      {
        run: 2,
        order: 2,
        block: 1,
        role: "given",
        feed: 0.21,
        edge: "fresh",
        response: "Ra",
        value: 0.7874,
        unit: "µm",
        spot: 1,
        repeat: 1,
        taken: "2026-11-25T09:00:00.000Z",
        note: "",
        void: false,
        reason: "",
      },
      {
        run: 3,
        order: 3,
        block: 1,
        role: "given",
        feed: 0.1,
        edge: "used",
        response: "Rz",
        value: 4,
        unit: "µm",
        spot: 1,
        repeat: 1,
        taken: "2026-11-25T09:00:00.000Z",
        note: "chuck",
        void: true,
        reason: "chip",
      },
    ]);
  });
});
