import { expect, test } from "vitest";
import { powerFigure } from "../../src/figure/index.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

// Two-sided 5 % t test of two groups, effect one standard deviation: R, power.t.test(n = 4:12, delta = 1)$power.
const oneSd = [0.2225, 0.2859, 0.3472, 0.4057, 0.4612, 0.5133, 0.562, 0.6071, 0.6486].map((power, index) => ({
  x: 8 + 2 * index,
  power,
}));
const twoSd = oneSd.map(({ x, power }) => ({ x, power: Math.min(1, power * 2.1) }));

test("the place where a curve first reaches what is wanted is marked and told", async () => {
  const figure = powerFigure(
    [
      { label: "effect 0.1 µm", points: oneSd },
      { label: "effect 0.2 µm", points: twoSd },
    ],
    { along: "passes", whole: "only" },
  );
  const root = expectSound(figure);
  expect(partOf(root, "power").length).toBe(2);
  expect(partOf(root, "points").length).toBe(18);
  expect(partOf(root, "drop").length).toBe(1);
  expect(figure.description).toContain(
    "effect 0.1 µm: the chance goes from 22 % at 8 passes to 65 % at 24 passes; it does not reach 80 %.",
  );
  expect(figure.description).toContain("80 % is first reached at 14 passes.");
  await expectPicture(figure, "power-passes");
});

test("power can run along the size of an effect with its unit", async () => {
  const points = Array.from({ length: 41 }, (_, index) => ({
    x: index * 0.01,
    power: 1 - 0.95 * Math.exp(-((index / 14) ** 2)),
  }));
  const figure = powerFigure([{ label: "", points }], { along: "effect on Ra", unit: "µm" });
  expectSound(figure);
  expect(figure.table.columns).toEqual(["curve", "effect on Ra [µm]", "power"]);
  await expectPicture(figure, "power-effect");
});

test("one point is drawn; no point and a chance above 1 are refused", () => {
  expectSound(
    powerFigure([{ label: "", points: [{ x: 8, power: 0.5 }] }], { along: "passes", whole: "only" }),
  );
  expect(() => powerFigure([], { along: "passes" })).toThrow(
    "0 curves with no points: expected one to 4 curves, each with at least one point.",
  );
  expect(() => powerFigure([{ label: "", points: [{ x: 8, power: 80 }] }], { along: "passes" })).toThrow(
    "power 80 at 8: expected a chance from 0 to 1. Give power as a fraction, 0.8 for 80 %.",
  );
});
