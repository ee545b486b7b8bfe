import { expect, test } from "vitest";
import { boundMultiple, jointRecipe, keptRegion } from "../../../src/model/index.ts";
import { drawnTrial } from "./several-responses.ts";

const { trial, fits } = drawnTrial({ seed: 5, more: { machine: { maxSpeed: "1300 rev/min" } } });

test("the set is the settings whose bounds all lie within, each with its part of the assurance", () => {
  const region = keptRegion(trial, fits, { assurance: 0.9, limits: { power: { for: "mean" } } });
  expect(region.assuranceEach).toBeCloseTo(0.95, 12);
  let kept = 0;
  const feeds: number[] = [];
  for (let f = 8; f <= 24; f++)
    for (let speed = 600; speed <= 1400; speed += 50) {
      const settings = { feed: f / 100, speed };
      const isKept =
        speed <= 1300 &&
        fits.every((fit, k) => {
          const { estimate, mean } = fit.predict(settings, { confidence: 0.9 });
          const t = boundMultiple({ for: "mean", share: 0.9, parts: 1, assurance: 0.95 }, 1, fit.residualDf);
          const leverage = (Math.log(mean!.high / estimate) / (t * fit.residualSd!)) ** 2;
          const promise = {
            for: k === 0 ? "share" : "mean",
            share: 0.95,
            parts: 1,
            assurance: 0.95,
          } as const;
          const bound =
            Math.log(estimate) + fit.residualSd! * boundMultiple(promise, leverage, fit.residualDf);
          return bound <= Math.log(k === 0 ? 0.8 : 3);
        });
      expect(region.contains(settings)).toBe(isKept);
      if (isKept) kept++;
      if (isKept) feeds.push(f / 100);
    }
  expect(region.kept).toBe(kept);
  expect(region.share).toBeCloseTo(kept / (17 * 17), 12);
  expect(region.parts[0]?.extent?.["feed"]).toEqual({ low: Math.min(...feeds), high: Math.max(...feeds) });
});

test("holds between increments, not outside what was cut nor beyond the machine", () => {
  const region = keptRegion(trial, fits);
  expect(region.contains({ feed: 0.105, speed: 910 })).toBe(true);
  expect(region.contains({ feed: 0.05, speed: 900 })).toBe(false);
  expect(region.contains({ feed: 0.09, speed: 1350 })).toBe(false);
  expect(() => region.contains({ tilt: 1 })).toThrow(/unknown factor "tilt"/);
});

test("a recipe with the same assurances stands in the set, and less assurance makes it no smaller", () => {
  const region = keptRegion(trial, fits, { assurance: 0.9 });
  expect(region.contains(jointRecipe(trial, fits).settings)).toBe(true);
  expect(keptRegion(trial, fits, { assurance: 0.6 }).share).toBeGreaterThanOrEqual(region.share);
});

test("says in words how much is left and which response narrows it most", () => {
  expect(keptRegion(trial, fits).text).toMatch(/% of the settings .* narrows it most/);
  expect(keptRegion(trial, fits, { limits: { Ra: { limit: 0.01 } } }).text).toMatch(
    /^No setting .* Ra narrows it most/,
  );
});
