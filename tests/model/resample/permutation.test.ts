import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  fitLinear,
  main,
  observeTable,
  permutationTest,
  permutationTestInWorkers,
} from "../../../src/model/index.ts";
import { refitter } from "../../../src/numerics/index.ts";

function observed(
  columns: Readonly<Record<string, readonly (number | string)[]>>,
  factors: readonly string[],
  block?: string,
) {
  return observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors, ...(block === undefined ? {} : { block }) },
  );
}

const edges = ["fresh", "fresh", "fresh", "used", "used", "used"];

/** All orders of some items. */
function orders<Item>(items: readonly Item[]): Item[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) => orders(items.filter((_, k) => k !== i)).map((rest) => [item, ...rest]));
}

describe("runs that change places", () => {
  test("1, 2, 3 against 4, 5, 6 is as extreme as 2 of the 20 ways to share out the runs", () => {
    const told = permutationTest(fitLinear(observed({ edge: edges, y: [1, 2, 3, 4, 5, 6] }, ["edge"])));
    expect(told).toMatchObject({
      everyOrder: true,
      draws: 720,
      p: 0.1,
      pLow: 0.1,
      pHigh: 0.1,
      within: "all",
    });
    // t = 3/√(1·2/3) by hand, F its square.
    expect(told.f).toBeCloseTo(13.5, 10);
    expect(told.sentence).toBe(
      "If all terms together did nothing to y, runs that change places would show as much in 10 of 100 orders (p 0.1; in all 720 orders of the runs).",
    );
  });

  test("of a difference of means p is the share of all ways to share out the runs (any numbers)", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 6, maxLength: 6 }), (y) => {
        const told = permutationTest(fitLinear(observed({ edge: edges, y }, ["edge"])));
        if (told.p === null) return new Set(y).size === 1 || told.reason !== "";
        const gap = (values: readonly number[]) =>
          Math.abs(values.slice(0, 3).reduce((a, b) => a + b) - values.slice(3).reduce((a, b) => a + b));
        const all = orders(y);
        const share = all.filter((one) => gap(one) >= gap(y)).length / all.length;
        expect(told.p).toBeCloseTo(share, 12);
        return true;
      }),
      { numRuns: 25, seed: 4 },
    );
  });

  test("one term among others agrees with every order written out (Freedman and Lane)", () => {
    const columns = { x: [1, 2, 3, 4, 5], z: [2, 1, 5, 3, 4], y: [1.1, 1.7, 3.9, 3.7, 5.6] };
    const told = permutationTest(fitLinear(observed(columns, ["x", "z"])), { term: main("z") });
    const one = Float64Array.of(1, 1, 1, 1, 1);
    const [x, z] = [columns.x, columns.z].map((values) => Float64Array.from(values));
    const less = refitter([{ high: one }, { high: x }]);
    const full = refitter([{ high: one }, { high: x }, { high: z }]);
    const share = (y: Float64Array) =>
      1 - full.refit(y).residualSumOfSquares / less.refit(y).residualSumOfSquares;
    const y = Float64Array.from(columns.y);
    const [a, b] = less.refit(y).coefficients;
    const residuals = y.map((value, i) => value - a - b * x[i]);
    const all = orders([0, 1, 2, 3, 4]);
    const as = all.filter(
      (order) =>
        share(Float64Array.from(order, (from, i) => a + b * x[i] + residuals[from])) >= share(y) - 1e-9,
    );
    expect(told.p).toBeCloseTo(as.length / 120, 12);
    expect(told.label).toBe("z");
  });

  test("within blocks no run leaves its block: (3!)² orders of two blocks of three", () => {
    const fit = fitLinear(
      observed(
        { x: [1, 2, 3, 1, 2, 3], y: [1, 2, 3.2, 11, 12.3, 13], day: ["a", "a", "a", "b", "b", "b"] },
        ["x"],
        "day",
      ),
    );
    const told = permutationTest(fit);
    expect(told).toMatchObject({ within: "blocks", draws: 36, everyOrder: true });
    // Both blocks rising as cut, or both falling: 2 of 36.
    expect(told.p).toBeCloseTo(2 / 36, 12);
  });

  test("drawn orders give the same p in threads as here, within the stated bounds of the exact one", async () => {
    const x = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
    const y = [2, 1, 4, 3, 6, 5, 4, 9, 7, 8];
    const fit = fitLinear(observed({ x, y }, ["x"]));
    const options = { draws: 2000, seed: 8 };
    const here = permutationTest(fit, options);
    expect(await permutationTestInWorkers(fit, { ...options, workers: 2 })).toEqual(here);
    expect(here.everyOrder).toBe(false);
    expect(here.pLow!).toBeLessThanOrEqual(here.p!);
    // 0.0014 by all 3,628,800 orders would lie in the bounds; t of the slope gives 0.001.
    expect(here.pHigh!).toBeLessThan(0.01);
  });

  test.each([
    ["one value throughout", { x: [1, 2, 3], y: [2, 2, 2] }],
    ["no scatter left", { x: [1, 2], y: [1, 3] }],
    ["a setting that never moved", { x: [1, 1, 1], y: [1, 2, 3] }],
  ])("%s: no test, with its reason", (_, columns) => {
    const told = permutationTest(fitLinear(observed(columns, ["x"])));
    expect(told).toMatchObject({ p: null, f: null });
    expect(told.reason).not.toBe("");
    expect(JSON.stringify(told)).not.toMatch(/NaN|Infinity/);
  });

  test("a term that the fit doesn't have, and weights, are refused", () => {
    const observations = observed({ x: [1, 2, 3], y: [1, 2, 4] }, ["x"]);
    expect(() => permutationTest(fitLinear(observations), { term: main("z") })).toThrow(
      "the term z; expected one of x.",
    );
    expect(() => permutationTest(fitLinear(observations, { weights: [1, 2, 1] }))).toThrow(/weighted rows/);
  });
});
