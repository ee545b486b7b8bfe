import { describe, expect, it } from "vitest";
import {
  factorNamed,
  heldQuantity,
  nearestName,
  parseTrialSpec,
  pointsOf,
  readingsInUse,
  settingsAsCut,
  settingText,
  type AsCut,
  type Reading,
  type Run,
} from "../../src/trial/index.ts";
import { exampleSpec, frozen } from "./example-spec.ts";

const spec = parseTrialSpec(exampleSpec);
const runs: readonly Run[] = [
  { run: 1, standard: 2, block: 1, role: "corner", settings: { feed: 0.08, speed: 200, edge: "fresh" } },
  { run: 2, standard: 1, block: 1, role: "corner", settings: { feed: 0.24, speed: 300, edge: "used" } },
];
const asCut: readonly AsCut[] = [
  { run: 2, factor: "feed", value: 0.2, unit: "mm/rev", reason: "misread" },
  { run: 2, factor: "feed", value: 0.01, unit: "in/rev", reason: "the dial is in inches" },
  { run: 2, factor: "edge", value: "fresh", unit: "", reason: "the used one broke" },
];
const reading: Reading = {
  run: 1,
  response: "Ra",
  value: 0.8,
  unit: "µm",
  spot: 1,
  repeat: 1,
  taken: "",
  note: "",
  void: "",
};
const trial = frozen({ spec, runs, asCut });

describe("settingsAsCut", () => {
  it("is the plan where nothing was cut otherwise, by run or by its number", () => {
    expect(settingsAsCut(trial, runs[0])).toEqual(runs[0].settings);
    expect(settingsAsCut(trial, 1)).toEqual(runs[0].settings);
  });

  it("takes the last note on each factor, in the factor's unit", () => {
    expect(settingsAsCut(trial, 2)).toEqual({ feed: 0.254, speed: 300, edge: "fresh" });
  });

  it("refuses a run that is not in the plan and a level that is none", () => {
    expect(() => settingsAsCut(trial, 3)).toThrow(
      "run: got 3; expected a run of the plan. Check the number: the plan has runs 1 to 2.",
    );
    const wrong = { ...trial, asCut: [{ ...asCut[2], value: "blunt" }] };
    expect(() => settingsAsCut(wrong, 2)).toThrow(
      'as-cut.csv, run 2, edge: got "blunt"; expected one of "fresh", "used".',
    );
  });
});

describe("readingsInUse", () => {
  it("leaves voided readings and other responses out and converts into the response's unit", () => {
    const readings = frozen([
      reading,
      { ...reading, repeat: 2, void: "chip under the stylus" },
      { ...reading, response: "Rz", value: 4 },
      { ...reading, run: 2, value: 31, unit: "µin" },
    ]);
    const inUse = readingsInUse({ spec, readings }, "Ra");
    expect(inUse.map(({ run, value, unit }) => [run, value, unit])).toEqual([
      [1, 0.8, "µm"],
      [2, 0.7874, "µm"], // 31 × 0.0254, exact
    ]);
  });

  it("offers the nearest response for a name that none has", () => {
    expect(() => readingsInUse({ spec, readings: [] }, "ra")).toThrow(
      'response: got "ra"; expected one of Ra, Rz. Did you mean "Ra"?',
    );
  });
});

describe("factors", () => {
  it("are found by name, and the nearest is offered", () => {
    expect(factorNamed(spec, "edge")).toBe(spec.factors[2]);
    expect(() => factorNamed(spec, "fede")).toThrow(
      'factor: got "fede"; expected one of feed, speed, edge. Did you mean "feed"?',
    );
  });

  it("have as points their levels, else low and high", () => {
    expect(spec.factors.map(pointsOf)).toEqual([
      [0.08, 0.16, 0.24],
      [200, 300],
      ["fresh", "used"],
    ]);
  });

  it("show a setting in the reader's system", () => {
    expect(settingText(spec.factors[0], 0.254, "metric")).toBe("0.254 mm/rev");
    expect(settingText(spec.factors[0], 0.254, "inch")).toBe("0.01 in/rev");
    expect(settingText(spec.factors[2], "used", "both")).toBe("used");
  });
});

describe("heldQuantity", () => {
  it("reads a quantity, and answers null for words and for what is not held", () => {
    expect(heldQuantity(spec, "depth")).toMatchObject({ value: 0.1, unit: "mm", dimension: "length" });
    expect(heldQuantity(spec, "fluid")).toBeNull();
    expect(heldQuantity(spec, "toString")).toBeNull();
  });
});

describe("nearestName", () => {
  it("finds swapped, missing and changed letters, and nothing where all is different", () => {
    const known = ["replicates", "centrePoints", "blocks", "seed"];
    expect(
      ["replicate", "centerpoints", "blokcs", "seeds", "anchor"].map((name) => nearestName(name, known)),
    ).toEqual(["replicates", "centrePoints", "blocks", "seed", null]);
  });
});
