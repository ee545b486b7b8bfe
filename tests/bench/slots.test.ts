import { expect, test } from "vitest";
import type { ReadingView, SheetRunView } from "../../src/bench/api.ts";
import {
  allSlots,
  nextOpenSlot,
  nextRepeat,
  readingIn,
  slotKey,
  slotOfKey,
  slotsOf,
  slotWords,
  voidedOf,
} from "../../src/bench/client/run-sheet/slots.ts";

function reading(part: Partial<ReadingView>): ReadingView {
  return {
    run: 1,
    response: "Ra",
    spot: 1,
    repeat: 1,
    text: "0.8 µm",
    typed: "",
    taken: "",
    note: "",
    void: "",
    ...part,
  };
}

function run(number: number, readings: readonly ReadingView[] = []): SheetRunView {
  const plan = { run: number, standard: number, block: 1, role: "corner", settings: [], conditions: [] };
  return { ...plan, asCut: [], endsBefore: [], setUp: "", asCutReasons: [], readings };
}

const responses = [
  { name: "Ra", unit: "µm", limit: "" },
  { name: "Rz", unit: "µm", limit: "" },
];

test("a run has a place for each spot and each reading at it", () => {
  const slots = slotsOf(run(1), "Ra", { spots: 2, repeats: 3 });
  expect(slots.map(({ spot, place }) => [spot, place])).toEqual([
    [1, 1],
    [1, 2],
    [1, 3],
    [2, 1],
    [2, 2],
    [2, 3],
  ]);
});

test("readings beyond the places asked for are shown all the same", () => {
  const more = run(1, [reading({ repeat: 1 }), reading({ repeat: 2 }), reading({ spot: 3, repeat: 1 })]);
  const slots = slotsOf(more, "Ra", { spots: 1, repeats: 1 });
  expect(slots.map(({ spot, place }) => [spot, place])).toEqual([
    [1, 1],
    [1, 2],
    [3, 1],
  ]);
});

test("a reading out of use opens its place again, and the next one takes a number of its own", () => {
  const voided = run(1, [reading({ repeat: 1, void: "mistyped" })]);
  const slot = { run: 1, response: "Ra", spot: 1, place: 1 };
  expect(readingIn(voided, slot)).toBeUndefined();
  expect(voidedOf(voided, "Ra")).toHaveLength(1);
  expect(nextRepeat(voided, slot)).toBe(2);
  const again = run(1, [...voided.readings, reading({ repeat: 2, text: "0.79 µm" })]);
  expect(readingIn(again, slot)?.text).toBe("0.79 µm");
  expect(slotsOf(again, "Ra", { spots: 1, repeats: 1 })).toHaveLength(1);
});

test("Enter goes from run to run through the open fields and passes over the filled ones", () => {
  const filled = run(2, [reading({ run: 2 }), reading({ run: 2, response: "Rz" })]);
  const sheet = { runs: [run(1), filled, run(3)], responses };
  const places = { spots: 1, repeats: 1 };
  const after = (from: { run: number; response: string }, direction: "on" | "back") => {
    const next = nextOpenSlot(sheet, places, { ...from, spot: 1, place: 1 }, direction);
    return next === null ? null : `${next.run} ${next.response}`;
  };
  expect(after({ run: 1, response: "Ra" }, "on")).toBe("1 Rz");
  expect(after({ run: 1, response: "Rz" }, "on")).toBe("3 Ra");
  expect(after({ run: 3, response: "Ra" }, "back")).toBe("1 Rz");
  expect(after({ run: 3, response: "Rz" }, "on")).toBeNull();
  expect(after({ run: 1, response: "Ra" }, "back")).toBeNull();
  expect(allSlots(sheet, places)).toHaveLength(6);
});

test("the key of a place gives the place back, and nothing else does", () => {
  const slot = { run: 3, response: 'R"z, [µm]', spot: 2, place: 4 };
  expect(slotOfKey(slotKey(slot))).toEqual(slot);
  for (const other of ["", "{}", "[1]", '["1","Ra",1,1]', "nonsense"]) expect(slotOfKey(other)).toBeNull();
});

test("a place is called by spot and reading only where there are several", () => {
  const slot = { run: 1, response: "Ra", spot: 1, place: 1 };
  expect(slotWords(slot, { spots: 1, repeats: 1 })).toBe("");
  expect(slotWords(slot, { spots: 2, repeats: 1 })).toBe("spot 1");
  expect(slotWords(slot, { spots: 2, repeats: 2 })).toBe("spot 1, reading 1");
  expect(slotWords({ ...slot, place: 2 }, { spots: 1, repeats: 1 })).toBe("reading 2");
});
