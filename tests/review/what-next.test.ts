import { expect, test } from "vitest";
import { boundMultiple, fitPowerLaw, jointRecipe, observeTable } from "../../src/model/index.ts";
import { whatNext } from "../../src/review/index.ts";
import { drawnTrial } from "../model/recipe/several-responses.ts";

const { trial, fits } = drawnTrial({
  seed: 3,
  scatter: 0.08,
  more: { machine: { maxSpeed: "1300 rev/min" } },
});

test("passes leave the doubt that a fit with those runs would have", () => {
  const next = whatNext(trial, fits, { passes: 3, limits: { Ra: { for: "mean" }, power: { limit: 30 } } });
  expect(next.narrowed).toEqual(["Ra"]);
  const fit = fits[0];
  // The second road: the runs really added, at the values that the fit foretells, so that only information grows.
  const settings = [...fit.rows.map((row) => row.settings), ...next.passes.map((pass) => pass.settings)];
  const column = (name: string) => ({ name, unit: "", values: settings.map((one) => Number(one[name])) });
  const grown = fitPowerLaw(
    observeTable(
      {
        columns: [
          column("feed"),
          column("speed"),
          {
            name: "Ra",
            unit: "µm",
            values: settings.map((one) => fit.predict({ feed: one["feed"], speed: one["speed"] }).estimate),
          },
        ],
      },
      { response: "Ra", factors: ["feed", "speed"] },
    ),
  );
  const leverageOf = (of: typeof fit): number => {
    const evaluator = of.evaluator!();
    const point = evaluator.centre();
    for (const name of ["feed", "speed"]) evaluator.set(point, name, next.now.settings[name]);
    const out = new Float64Array(2);
    evaluator.evaluate(point, out);
    return out[1];
  };
  const promise = { for: "mean", share: 0.95, parts: 1, assurance: 0.95 } as const;
  const left =
    boundMultiple(promise, leverageOf(grown), grown.residualDf) /
    boundMultiple(promise, leverageOf(fit), fit.residualDf);
  expect(grown.residualDf).toBe(fit.residualDf + 3);
  expect(next.passes[2].doubtLeft["Ra"]).toBeCloseTo(left, 8);
});

test("starts from the recipe, and stopping can't cost less than the passes gain", () => {
  const next = whatNext(trial, fits);
  expect(next.now.settings).toEqual(jointRecipe(trial, fits).settings);
  expect(next.costOfStopping).toBeGreaterThanOrEqual(next.gain!);
  expect(next.costOfStopping).toBeGreaterThan(0);
  for (const { settings } of next.passes) expect(Number(settings["speed"])).toBeLessThanOrEqual(1300);
  expect(next.text).toMatch(/^Stopping now gives away .* cm³\/min/);
  expect(next.table.rows).toHaveLength(4);
});

test("each pass leaves less doubt than the one before", () => {
  const left = whatNext(trial, fits, { passes: 6 }).passes.map(
    ({ doubtLeft }) => Object.values(doubtLeft)[0],
  );
  for (const [k, one] of left.entries()) expect(one).toBeLessThan(left[k - 1] ?? 1);
});

test("advises to stop where nothing can be gained", () => {
  const next = whatNext(trial, fits, { limits: { Ra: { limit: 20 }, power: { limit: 30 } } });
  expect(next).toMatchObject({ advice: "stop", gain: 0, costOfStopping: 0 });
  expect(next.text).toMatch(/^Stopping now gives away nothing.*stop, and cut the proof runs/);
});

test("tells a limit that doubt keeps out of reach from one that no passes will reach", () => {
  const never = whatNext(trial, fits, { limits: { Ra: { limit: 0.05 } } });
  expect(never.advice).toBe("no recipe yet");
  expect(never.text).toMatch(/even by the estimates themselves/);
  const lowest = Math.min(...[600, 1300].map((speed) => fits[0].predict({ feed: 0.08, speed }).estimate));
  const doubted = whatNext(trial, fits, {
    limits: { Ra: { limit: lowest * 1.01, for: "mean" } },
    passes: 16,
  });
  expect(doubted.advice).toBe("no recipe yet");
  expect(doubted.text).toMatch(/the doubt is in the way, of Ra/);
});

test.each([0, 17, 1.5])("refuses %s passes", (passes) => {
  expect(() => whatNext(trial, fits, { passes })).toThrow(/passes; expected a whole number/);
});
