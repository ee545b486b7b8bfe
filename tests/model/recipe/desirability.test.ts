import { expect, test } from "vitest";
import { desirability, mostDesirable, overallDesirability, type Wish } from "../../../src/model/index.ts";
import { drawnTrial, quantities } from "./several-responses.ts";

// Worked by hand from the formulas of Derringer and Suich 1980, Journal of Quality Technology 12, 214–219.
test.each([
  { value: 0.7, wish: { aim: "smaller", good: 0.4, bad: 0.8 }, liking: 0.25 },
  { value: 0.7, wish: { aim: "smaller", good: 0.4, bad: 0.8, weight: 2 }, liking: 0.0625 },
  { value: 0.3, wish: { aim: "smaller", good: 0.4, bad: 0.8 }, liking: 1 },
  { value: 0.8, wish: { aim: "smaller", good: 0.4, bad: 0.8 }, liking: 0 },
  { value: 145, wish: { aim: "larger", good: 170, bad: 120 }, liking: 0.5 },
  { value: 145, wish: { aim: "larger", good: 170, bad: 120, weight: 0.5 }, liking: Math.SQRT1_2 },
  { value: 450, wish: { aim: "target", good: 500, bad: [400, 600] }, liking: 0.5 },
  { value: 575, wish: { aim: "target", good: 500, bad: [400, 600] }, liking: 0.25 },
  { value: 500, wish: { aim: "target", good: 500, bad: [400, 600] }, liking: 1 },
  { value: 650, wish: { aim: "target", good: 500, bad: [400, 600] }, liking: 0 },
] satisfies { value: number; wish: Wish; liking: number }[])("$value is liked $liking by $wish", (given) => {
  expect(desirability(given.value, given.wish)).toBeCloseTo(given.liking, 12);
});

test("the overall liking is the geometric mean, by importance, and one of no use spoils all", () => {
  expect(overallDesirability([0.25, 1])).toBeCloseTo(0.5, 12);
  expect(overallDesirability([0.5, 0.5, 0.5])).toBeCloseTo(0.5, 12);
  expect(overallDesirability([0.25, 1], [1, 3])).toBeCloseTo(0.25 ** 0.25, 12);
  expect(overallDesirability([0, 1])).toBe(0);
});

test.each([
  [{ aim: "smaller", good: 0.8, bad: 0.4 }, /bad value above/],
  [{ aim: "target", good: 0.8, bad: 0.4 }, /either side/],
  [{ aim: "larger", good: 1, bad: 0, weight: 0 }, /weight of 0/],
] satisfies (readonly [Wish, RegExp])[])("refuses the wish %j", (wish, message) => {
  expect(() => desirability(0.5, wish)).toThrow(message);
});

test("the best liked settings are the best of every machine setting, tried one by one", () => {
  const { trial, fits } = drawnTrial({ model: "surface", seed: 8 });
  const wishes: Record<string, Wish> = {
    Ra: { aim: "smaller", good: 0.3, bad: 0.9, importance: 2 },
    power: { aim: "target", good: 2, bad: [1, 3], weight: 2 },
  };
  const found = mostDesirable(trial, fits, { wishes });
  let best = 0;
  const { feed, speed } = quantities;
  for (let f = 0.08; f < feed.high + 1e-9; f += feed.increment)
    for (let s = speed.low; s <= speed.high; s += speed.increment) {
      const predictions = fits.map((fit) => fit.predict({ feed: Number(f.toFixed(2)), speed: s }));
      if (predictions.some(({ extrapolation }) => extrapolation.length > 0)) continue;
      const likings = predictions.map(({ estimate }, k) =>
        desirability(estimate, wishes[fits[k].response.name]),
      );
      best = Math.max(best, overallDesirability(likings, [2, 1]));
    }
  expect(found.overall).toBeCloseTo(best, 12);
  expect(found.overallAssured).toBeLessThan(found.overall);
  expect(found.exact).toBe(true);
});
