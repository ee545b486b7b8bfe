import { describe, expect, test } from "vitest";
import { observe } from "../../src/model/index.ts";
import { edge, feed, madeTrial } from "./made-trial.ts";

const runs = [
  { settings: { feed: 0.08, edge: "fresh" }, spots: [[0.8, 0.9], [1.0]] },
  { settings: { feed: 0.24, edge: "used" }, spots: [[2, 4]] },
  { settings: { feed: 0.16, edge: "used" }, spots: [] },
];

describe("observe", () => {
  test("makes one row a run: the mean of its readings, runs without readings left out", () => {
    const { rows, notes } = observe(madeTrial(runs, { factors: [feed, edge] }));
    expect(rows.map(({ run, readings, settings }) => ({ run, readings, settings }))).toEqual([
      { run: 1, readings: 3, settings: { feed: 0.08, edge: "fresh" } },
      { run: 2, readings: 2, settings: { feed: 0.24, edge: "used" } },
    ]);
    expect(rows[0].value).toBeCloseTo(0.9, 15);
    expect(rows[1].value).toBe(3);
    expect(notes).toEqual(["5 readings on 2 runs: readings of one run are repeats and were averaged."]);
  });

  test("takes settings as they were cut", () => {
    const trial = madeTrial(runs, {
      factors: [feed, edge],
      asCut: [{ run: 2, factor: "feed", value: 0.22, unit: "mm/rev", reason: "dial" }],
    });
    expect(observe(trial, "Ra").rows[1].settings).toEqual({ feed: 0.22, edge: "used" });
  });

  test("leaves voided readings out and brings readings in other units to the response's", () => {
    const trial = madeTrial(runs, { factors: [feed, edge] });
    const readings = [
      { ...trial.readings[0], value: 31.5, unit: "µin" },
      { ...trial.readings[1], void: "stylus slipped" },
    ];
    expect(observe({ ...trial, readings }).rows[0].value).toBeCloseTo(0.8001, 14); // 31.5 × 0.0254, exactly
  });

  test("averages logarithms where asked", () => {
    const { rows, logScale } = observe(madeTrial(runs, { factors: [feed, edge] }), "Ra", { log: true });
    expect(logScale).toBe(true);
    expect(rows[1].value).toBeCloseTo((Math.log(2) + Math.log(4)) / 2, 15);
    expect(rows[1].single).toEqual([2, 4]);
  });

  test("keeps the first level of a category, and the ends of a quantity, from the trial", () => {
    const { factors } = observe(madeTrial(runs, { factors: [feed, edge] }));
    expect(factors[0]).toMatchObject({
      name: "feed",
      kind: "quantity",
      unit: "mm/rev",
      low: 0.08,
      high: 0.24,
    });
    expect(factors[1]).toMatchObject({ name: "edge", kind: "category", levels: ["fresh", "used"] });
  });

  test("refuses the logarithm of a reading that is not above zero, by run", () => {
    const trial = madeTrial([{ settings: { feed: 0.08, edge: "fresh" }, spots: [[0]] }], {
      factors: [feed, edge],
    });
    expect(() => observe(trial, "Ra", { log: true })).toThrow(
      "run 1: Ra 0 µm, of which there is no logarithm; expected readings above zero. Void the reading with its reason, or fit without the logarithm.",
    );
  });

  test("refuses a trial without readings, and an unknown response", () => {
    const empty = madeTrial([], { factors: [feed, edge] });
    expect(() => observe(empty)).toThrow(
      "no reading in use of Ra in made; expected readings on at least one run. Record readings first.",
    );
    expect(() => observe(empty, "Rz")).toThrow("Rz");
  });
});
