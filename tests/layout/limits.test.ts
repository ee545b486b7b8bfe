import { describe, expect, test } from "vitest";
import { checkLimits, costSoFar, layOut, LimitError, planCost } from "../../src/layout/index.ts";
import type { TrialSpec } from "../../src/trial/index.ts";
import { edge, feed, speed } from "./factors.ts";

/** An invented face: 180 mm long, cutter of 80 mm, feeds 0.08 to 0.24 mm/rev at 800 to 1250 rev/min. */
const spec: TrialSpec = {
  format: "trycut-trial/1",
  title: "Seal face",
  question: "What moves Ra?",
  dataKind: "invented",
  source: "",
  display: "metric",
  factors: [feed, speed],
  responses: [{ name: "Ra", unit: "µm", aim: "smaller" }],
  layout: { kind: "factorial" },
  held: { depth: "0.1 mm" },
  cutter: { diameter: "80 mm" },
  pass: { length: "180 mm", width: "60 mm" },
};
const { runs } = layOut({ factors: spec.factors, layout: { kind: "factorial", order: "as-listed" } });

function refusal(changes: Partial<TrialSpec>): string {
  try {
    checkLimits({ ...spec, ...changes }, runs);
  } catch (error) {
    expect(error).toBeInstanceOf(LimitError);
    return (error as Error).message;
  }
  return "nothing";
}

describe("a plan is refused", () => {
  test("over the spindle's limit", () => {
    expect(refusal({ machine: { maxSpeed: "1200 rev/min" } })).toBe(
      "Run 3 asks for 1250 rev/min, above the spindle limit of 1200 rev/min. So does 1 more run. Lower the speed, so that no run passes 1200 rev/min.\nNothing was written.",
    );
  });

  test("over the cutter's limit, in revolutions or at the rim", () => {
    expect(refusal({ cutter: { diameter: "80 mm", maxSpeed: "1000 rev/min" } })).toBe(
      "Run 3 asks for 1250 rev/min, above the cutter limit of 1000 rev/min. So does 1 more run. Lower the speed, so that no run passes 1000 rev/min.\nNothing was written.",
    );
    // π × 80 mm × 1250 rev/min = 314.2 m/min
    expect(refusal({ cutter: { diameter: "80 mm", maxSpeed: "300 m/min" } })).toBe(
      "Run 3 asks for 314.2 m/min, above the cutter limit of 300 m/min. So does 1 more run. Lower the speed, so that no run passes 300 m/min.\nNothing was written.",
    );
  });

  test("over the machine's feed speed", () => {
    expect(refusal({ machine: { maxFeedSpeed: "250 mm/min" } })).toBe(
      "Run 4 asks for 300 mm/min (0.24 mm/rev at 1250 rev/min), above the feed limit of 250 mm/min. Lower the feed or the speed, so that no run passes 250 mm/min.\nNothing was written.",
    );
  });

  test("over the passes, minutes, stock or edges at hand, all at once", () => {
    // Minutes of a pass: (180 + 40)/64 = 3.4375, /192 = 1.1458, /100 = 2.2, /300 = 0.7333; summed 7.5167
    expect(refusal({ budget: { passes: 3, minutes: 6, stock: "0.25 mm" } })).toBe(
      [
        "Run 4 is one pass too many: the plan has 4 runs and 3 passes are at hand. Leave out 1: fewer replicates, levels or centre points.",
        "The 6 minutes at hand end in run 3: the plan takes 7.52 minutes. Leave out the runs from 3 on, or shorten the pass.",
        "The stock of 0.25 mm ends in run 3: the plan takes 0.4 mm (4 passes of 0.1 mm). Cut at most 2 runs, or take less depth.",
        "Nothing was written.",
      ].join("\n"),
    );
  });

  test("over the edges at hand", () => {
    const factors = [feed, edge];
    const plan = layOut({
      factors,
      layout: { kind: "factorial", replicates: 2, blocks: 2, order: "as-listed" },
    });
    expect(() => checkLimits({ ...spec, factors, budget: { edges: 3 } }, plan.runs)).toThrow(
      "Run 7 needs edge 4 and 3 are at hand: the plan takes 4, a fresh one for each block and each edge that is compared. Take fewer blocks.\nNothing was written.",
    );
  });
});

describe("a plan within its limits", () => {
  test("passes, on the limit too: 4 × 0.1 mm is 0.4 mm", () => {
    expect(refusal({ budget: { passes: 4, stock: "0.4 mm" }, machine: { maxSpeed: "1250 rev/min" } })).toBe(
      "nothing",
    );
  });

  test("says what could not be checked", () => {
    const { cutter, ...bare } = spec;
    expect(cutter).toBeDefined();
    expect(checkLimits({ ...bare, cutter: { maxSpeed: "300 m/min" } }, runs).unchecked).toEqual([
      "The cutter limit of 300 m/min could not be checked: Wants the cutter's diameter: cutter.diameter.",
    ]);
  });
});

test("the cost of a plan is summed run by run, with the minutes between passes", () => {
  const cost = planCost({ ...spec, budget: { minutesBetween: 5, minutes: 12 } }, runs, {
    densityGPerCm3: 2.7,
  });
  expect(cost.rows.map((row) => row.minutesSoFar?.toFixed(3))).toEqual([
    "3.438",
    "9.583",
    "16.783",
    "22.517",
  ]);
  expect(cost.rows.map((row) => row.stockSoFarMm?.toFixed(1))).toEqual(["0.1", "0.2", "0.3", "0.4"]);
  // Chips of one pass: 0.1 × 60 mm² over the 180 mm of the face = 1.08 cm³, 2.7 g/cm³; approach and overtravel cut nothing more.
  expect(cost.total?.chipsSoFarG).toBeCloseTo(4 * 1.08 * 2.7, 10);
  expect(cost.ends).toEqual([{ budget: "minutes", run: 3, atHand: 12, wanted: cost.total?.minutesSoFar }]);
});

describe("what a plan uses up", () => {
  test("counts the passes that warm the machine up, at the middle of every factor", () => {
    const layout = { kind: "factorial", order: "as-listed", warmUp: { passes: 2 } };
    const cost = planCost({ ...spec, layout, budget: { passes: 5 } }, runs);
    // 220 mm at 0.16 mm/rev and √(800 × 1250) = 1000 rev/min: 1.375 min each, before the 7.5167 of the plan.
    expect(cost.total?.minutesSoFar).toBeCloseTo(2 * 1.375 + 7.516666666, 8);
    expect(cost.ends).toEqual([{ budget: "passes", run: 4, atHand: 5, wanted: 6 }]);
    expect(refusal({ layout, budget: { passes: 5 } })).toBe(
      "Run 4 is one pass too many: the plan has 4 runs, 2 passes of warming up before them, and 5 passes are at hand. Leave out 1: fewer replicates, levels or centre points.\nNothing was written.",
    );
  });

  test("takes a fresh edge only where one is used up, if the layout says how long one lasts", () => {
    const layout = { kind: "factorial", replicates: 4, blocks: 4, order: "as-listed" };
    const four = layOut({ factors: spec.factors, layout }).runs;
    const edges = (borders?: object) =>
      planCost({ ...spec, layout: { ...layout, ...(borders ? { borders } : {}) } }, four).total?.edgesSoFar;
    expect(edges()).toBe(4); // one a block
    expect(edges({ edge: { passes: 8 } })).toBe(2);
    expect(edges({ edge: { minutes: 15.1 } })).toBe(2); // two blocks of 7.52 minutes each
    expect(edges({ shift: { passes: 4 } })).toBe(1);
  });

  test.each([
    ["2.7 g/cm³", 2.7],
    ["7850 kg/m³", 7.85],
    ["0.1 lb/in³", 2.767990471020312],
  ])("weighs the chips by a material density of %s", (density, gPerCm3) => {
    const held = { depth: "0.1 mm", "material density": density };
    const chips = planCost({ ...spec, held }, runs).total?.chipsSoFarG ?? 0;
    expect(chips / (4 * 1.08 * gPerCm3)).toBeCloseTo(1, 12);
  });

  test("turned: chips are what the ring between two diameters holds, less the half depth's share", () => {
    // Removal rate by the diameter before the cut: 1000·v·f·d over length/(n·f) is π·D·d·length.
    const turned: TrialSpec = {
      ...spec,
      held: { depth: "0.1 mm", diameter: "50 mm" },
      cutter: {},
      pass: { length: "100 mm", kind: "turning" },
    };
    expect(planCost(turned, runs).rows[0]?.chipsCm3).toBeCloseTo((Math.PI * 50 * 0.1 * 100) / 1000, 10);
  });

  test("is told run by run and in one sentence", () => {
    const told = costSoFar({ ...spec, budget: { minutes: 20, minutesBetween: 1 } }, runs);
    expect(told.headings).toEqual(["minutes so far", "stock so far"]);
    expect(told.rows[3]).toEqual(["10.5", "0.400 mm"]);
    expect(told.sentence).toBe("Takes 4 passes, 10.5 minutes (20 at hand) and 0.400 mm of stock.");
  });
});
