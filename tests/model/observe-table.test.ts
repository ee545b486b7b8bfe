import { describe, expect, test } from "vitest";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import { workedExample } from "../reference/worked-example.ts";

const column = (name: string, unit: string, values: readonly (string | number | null)[]) => ({
  name,
  unit,
  values,
});

describe("observeTable", () => {
  test("takes each line as a run, numbers as quantities and words as categories in the order of the file", () => {
    const observed = observeTable(
      {
        columns: [
          column("feed", "mm/rev", ["0.2", "0,1", " 0.3 "]),
          column("edge", "", ["used", "fresh", "used"]),
          column("Ra", "µm", [1, 0.5, 1.6]),
        ],
      },
      { response: "Ra", factors: ["feed", "edge"] },
    );
    expect(observed.factors).toEqual([
      { name: "feed", kind: "quantity", unit: "mm/rev", levels: [], low: 0.1, high: 0.3, scale: "linear" },
      {
        name: "edge",
        kind: "category",
        unit: "",
        levels: ["used", "fresh"],
        low: -1,
        high: 1,
        scale: "linear",
      },
    ]);
    expect(
      observed.rows.map(({ run, settings, value, single }) => ({ run, settings, value, single })),
    ).toEqual([
      { run: 1, settings: { feed: 0.2, edge: "used" }, value: 1, single: [1] },
      { run: 2, settings: { feed: 0.1, edge: "fresh" }, value: 0.5, single: [0.5] },
      { run: 3, settings: { feed: 0.3, edge: "used" }, value: 1.6, single: [1.6] },
    ]);
    expect(observed.repeats).toBeNull();
    expect(observed.notes).toEqual([]);
  });

  test("averages the lines of one run, and says so", () => {
    const observed = observeTable(
      {
        columns: [
          column("run", "", [1, 1, 2]),
          column("feed", "", [0.1, 0.1, 0.2]),
          column("Ra", "", [1, 3, 5]),
        ],
      },
      { response: "Ra", factors: ["feed"] },
    );
    expect(observed.rows.map(({ value, readings }) => ({ value, readings }))).toEqual([
      { value: 2, readings: 2 },
      { value: 5, readings: 1 },
    ]);
    expect(observed.notes).toEqual([
      "3 readings on 2 runs: readings of one run are repeats and were averaged.",
    ]);
    expect(observed.repeats?.withinSpot).toBeCloseTo(Math.SQRT2, 15);
  });

  test("keeps lines of one run apart where the settings differ, and says so", () => {
    const { rows, notes } = observeTable(
      {
        columns: [column("run", "", [1, 1]), column("edge", "", ["fresh", "used"]), column("Ra", "", [1, 3])],
      },
      { response: "Ra", factors: ["edge"] },
    );
    expect(rows).toHaveLength(2);
    expect(notes).toEqual(["1 run names cover 2 settings: lines were averaged within one run and setting."]);
  });

  test("treats numbers as names where they are called categories", () => {
    const { factors, rows } = observeTable(
      { columns: [column("tool", "", [302, 416]), column("finish", "", [44, 33])] },
      { response: "finish", factors: ["tool"], categories: ["tool"] },
    );
    expect(factors[0].levels).toEqual(["302", "416"]);
    expect(rows[1].settings).toEqual({ tool: "416" });
  });

  test("keeps the coding of a column that is coded already, axial points or not", () => {
    const ends = (unit: string, values: readonly number[]) => {
      const [{ low, high }] = observeTable(
        { columns: [column("x", unit, values), column("y", "", values)] },
        { response: "y", factors: ["x"] },
      ).factors;
      return [low, high];
    };
    expect(ends("", [-1, 1, 0, 1.414, -1.414])).toEqual([-1, 1]);
    expect(ends("coded", [-1, 1, 0, 2])).toEqual([-1, 1]);
    expect(ends("mm", [-1, 1, 0, 1.414, -1.414])).toEqual([-1.414, 1.414]);
    expect(ends("", [-5, -1, 1, 5])).toEqual([-5, 5]);
  });

  test("names blocks in the order of the file", () => {
    const { rows, blocks } = observeTable(
      {
        columns: [
          column("day", "", ["Tue", "Mon", "Tue"]),
          column("x", "", [1, 2, 3]),
          column("y", "", [1, 2, 3]),
        ],
      },
      { response: "y", factors: ["x"], block: "day" },
    );
    expect(blocks).toEqual({ name: "day", levels: ["Tue", "Mon"] });
    expect(rows.map(({ block }) => block)).toEqual([1, 2, 1]);
  });

  test("leaves lines without a response out, and says so", () => {
    const { rows, notes } = observeTable(
      { columns: [column("x", "", [1, 2, 3]), column("y", "", ["1", "", null])] },
      { response: "y", factors: ["x"] },
    );
    expect(rows.map(({ run }) => run)).toEqual([1]);
    expect(notes).toEqual(["2 of 3 lines have no y and were left out."]);
  });

  test("refuses what it can't take, by line and column", () => {
    const columns = [column("x", "", [1, 2]), column("y", "", ["1", "one"]), column("z", "", ["", 1])];
    expect(() => observeTable({ columns }, { response: "y", factors: ["x"] })).toThrow(
      'line 3: y "one"; expected a number, or an empty cell.',
    );
    expect(() => observeTable({ columns }, { response: "x", factors: ["z"] })).toThrow(
      "line 2: no setting of z; expected a setting on every line that has a reading. Fill the cell, or empty the reading.",
    );
    expect(() => observeTable({ columns }, { response: "w", factors: ["x"] })).toThrow(
      'the unknown column "w"; expected one of x, y or z.',
    );
    expect(() => observeTable({ columns }, { response: "x", factors: ["x"] })).toThrow(
      "x as response and factor; expected one or the other.",
    );
  });
});

describe("the turning readings", () => {
  test("have the scatter within a cell that R pools: run, diameter, edge and position, 12 readings each", () => {
    const example = workedExample("turning-12l14");
    const { rows, repeats } = observeTable(example, {
      response: "Ra",
      factors: ["diameter", "edge", "position"],
      categories: ["diameter"],
      log: true,
    });
    expect(rows).toHaveLength(204);
    // R 4.2: sqrt(sum of squares of ln Ra within the 204 cells / (2448 - 204))
    expect(repeats!.withinSpot).toBeCloseTo(0.122753716608464, 13);
    expect(repeats!.withinSpotDf).toBe(2448 - 204);
  });
});

describe("names of columns and runs", () => {
  test("rows are called by their number in the column run, where each has one of its own", () => {
    const runsOf = (runs: readonly (number | string)[], edges: readonly string[]) =>
      observeTable(
        { columns: [column("run", "", runs), column("edge", "", edges), column("Ra", "", [1, 2, 3])] },
        { response: "Ra", factors: ["edge"] },
      ).rows.map(({ run }) => run);
    expect(runsOf([7, 3, 5], ["a", "b", "a"])).toEqual([7, 3, 5]);
    expect(runsOf(["A", "B", "C"], ["a", "b", "a"])).toEqual([1, 2, 3]);
    expect(runsOf([7, 7, 5], ["a", "b", "a"])).toEqual([1, 2, 3]);
  });

  test("that every object inherits are names like others", () => {
    const fit = fitLinear(
      observeTable(
        { columns: [column("constructor", "", [1, 2, 3, 4]), column("y", "", [2, 4, 6, 9])] },
        { response: "y", factors: ["constructor"] },
      ),
    );
    expect(fit.effects[0].sentence).toBe(
      "Raising constructor from 1 to 4 raises y by 6.9 (95 % 4.7 to 9.1).",
    );
    expect(fit.predict({}).at).toEqual({ constructor: 2.5 });
  });
});
