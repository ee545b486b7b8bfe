import { expect, test } from "vitest";
import { inertLimits } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

// Wu and Hamada, Experiments, appendix H (95 %): one effect 2.297 of 7 and 2.156 of 15; all together 4.867 and 4.240. From memory;
// recomputed here with 400,000 and 300,000 draws as 2.295, 4.853, 2.154 and 4.236.
test.each([
  [7, 2.297, 4.867],
  [15, 2.156, 4.24],
])("limits of %i inert effects are the published ones to 2 %%", (effects, single, all) => {
  const limits = inertLimits(effects);
  expect(Math.abs(limits.single / single - 1)).toBeLessThan(0.01);
  expect(Math.abs(limits.all / all - 1)).toBeLessThan(0.02);
  expect(limits).toMatchObject({ effects, confidence: 0.95, seed: 1989 });
});

test("the same seed gives the same limits, another seed others", () => {
  expect(inertLimits(9, { draws: 4000 }).single).toBe(inertLimits(9, { draws: 4000 }).single);
  expect(inertLimits(9, { draws: 4000 }).single).not.toBe(inertLimits(9, { draws: 4000, seed: 2 }).single);
});

test("chances fall as effects grow, meet the confidence at the limit, and are never 0", () => {
  const limits = inertLimits(7);
  expect(limits.chanceOf(limits.single)).toBeCloseTo(0.05, 4);
  expect(limits.chanceOfLargest(limits.all)).toBeCloseTo(0.05, 4);
  expect(limits.chanceOf(0)).toBe(1);
  expect(limits.chanceOf(1)).toBeGreaterThan(limits.chanceOf(2));
  expect(limits.chanceOf(Infinity)).toBeGreaterThan(0);
});

test("inert effects drawn apart from the limits pass them as often as stated", () => {
  const { single, all } = inertLimits(11);
  const random = seededRandom(77);
  let one = 0;
  let any = 0;
  const trials = 6000;
  for (let trial = 0; trial < trials; trial++) {
    const sizes = Array.from({ length: 11 }, () => Math.abs(random.normal())).sort((a, b) => a - b);
    const unit = plainPseudoStandardError(sizes);
    one += sizes.filter((size) => size > single * unit).length / 11;
    any += sizes.some((size) => size > all * unit) ? 1 : 0;
  }
  // 4 standard errors of 6,000 trials; effects of one trial share their unit, so the first is counted as if by trial.
  expect(Math.abs(one / trials - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / trials));
  expect(Math.abs(any / trials - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / trials));
});

/** Lenth 1989 as printed. */
function plainPseudoStandardError(sizes: readonly number[]): number {
  const median = (list: readonly number[]) =>
    (list[Math.floor((list.length - 1) / 2)] + list[Math.ceil((list.length - 1) / 2)]) / 2;
  const initial = 1.5 * median(sizes);
  return 1.5 * median(sizes.filter((size) => size < 2.5 * initial));
}

test("refused: too few effects to have a typical size, and a confidence that is none", () => {
  expect(() => inertLimits(2)).toThrow("limits for 2 effects; expected from 3 to 1023 of them.");
  expect(() => inertLimits(7, { confidence: 1 })).toThrow(
    "a confidence of 1; expected a number between 0 and 1, such as 0.95.",
  );
});
