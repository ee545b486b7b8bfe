import { describe, expect, test } from "vitest";
import { fitCurve } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

const random = seededRandom(31);
const x = Array.from({ length: 40 }, (_, i) => i / 4);
const y = x.map((at) => 2 * Math.sin(1.7 * at + 0.4) + 0.1 * random.normal());
const table = {
  columns: [
    { name: "x", unit: "", values: x },
    { name: "y", unit: "", values: y },
  ],
};
const wave = { response: "y", expression: "a*sin(w*x+p)", start: { a: 1, w: 4, p: 0 } };

describe("a curve with many minima", () => {
  test("one start may end in a minimum that is not the best; twenty find it and say how many did", () => {
    const one = fitCurve(table, wave);
    const many = fitCurve(table, { ...wave, starts: 20, seed: 1, ranges: { w: [0.2, 6], p: [-3, 3] } });
    expect(one.starts).toBeNull();
    expect(one.residualSd!).toBeGreaterThan(1);
    expect(many.residualSd!).toBeLessThan(0.15);
    expect(Math.abs(many.parameters[1].estimate)).toBeCloseTo(1.7, 1);
    const { tried, reached, settled, others, sentence } = many.starts!;
    expect(tried).toBe(20);
    expect(reached).toBeGreaterThan(1);
    expect(settled).toBeGreaterThan(reached);
    expect(others.every((sum) => sum > many.residualSumOfSquares)).toBe(true);
    expect(sentence).toMatch(new RegExp(`^${reached} of 20 starts \\(seed 1\\) reached the best fit\\.`));
    expect(many.notes).toContain(sentence);
  });

  test("the same seed gives the same answer, and the given start is among those tried", () => {
    const options = { ...wave, starts: 6, seed: 3 };
    expect(JSON.stringify(fitCurve(table, options))).toBe(JSON.stringify(fitCurve(table, options)));
    const good = fitCurve(table, { ...wave, start: { a: 2, w: 1.7, p: 0.4 }, starts: 2, spread: 1.01 });
    expect(good.residualSd!).toBeLessThan(0.15);
  });

  test("starts at which the curve can't be computed are counted and passed over", () => {
    const rising = {
      columns: [
        table.columns[0],
        { name: "y", unit: "", values: x.map((at, i) => Math.log(at + 2) + 0.05 * y[i]) },
      ],
    };
    const told = fitCurve(rising, {
      response: "y",
      expression: "c + a*sqrt(x - t)",
      start: { a: 1, c: 0, t: -3 },
      ranges: { t: [-6, 5] },
      starts: 12,
    });
    expect(told.starts!.notComputable).toBeGreaterThan(0);
    expect(told.starts!.sentence).toContain("the curve could not be computed");
  });

  test.each([
    [{ starts: 0 }, /0 starts; expected a whole number from 1 to 1000/],
    [{ starts: 3, spread: 1 }, /a spread of 1; expected a number above 1/],
    [{ starts: 3, ranges: { w: [2, 1] as const } }, /w from 2 to 1 as a range of starts/],
    [{ starts: 3, ranges: { z: [1, 2] as const } }, /a range for z, which is no parameter/],
  ])("%o is refused", (more, message) => {
    expect(() => fitCurve(table, { ...wave, ...more })).toThrow(message);
  });
});
