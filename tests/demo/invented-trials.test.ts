import { describe, expect, test } from "vitest";
import { fitPowerLaw, isInterval, observe, stationaryRegion, termsOf } from "../../src/model/index.ts";
import { remarks } from "../../src/review/index.ts";
import { openTrial } from "../../src/store/index.ts";
import { fractionTruth, furtherTrials, surfaceTruth } from "./further-trials.ts";
import { recipeTrial } from "./recipe-trial.ts";
import { setUpsTrial } from "./set-ups-trial.ts";
import { scatteredReadings } from "./readings.ts";
import { factorialSeed, inventedReadings, sweepSeed } from "./invent.ts";
import { factorialTruth, sweepTruth } from "./truth.ts";

const further = await Promise.all(
  [...furtherTrials, setUpsTrial].map(async (made) => ({ ...made, trial: await openTrial(made.name) })),
);
const factorial = await openTrial("seal-face-factorial");
const sweep = await openTrial("seal-face-feed-sweep");
const recipe = await openTrial(recipeTrial.name);

/** Interval of an effect, or a failed test. */
function interval(value: ReturnType<ReturnType<typeof fitPowerLaw>["ratio"]>) {
  if (!isInterval(value)) throw new Error(value.reason);
  return value;
}

describe("the invented trials", () => {
  test("are labelled invented and say from which script they come", () => {
    for (const { spec } of [factorial, sweep, recipe, ...further.map(({ trial }) => trial)]) {
      expect(spec.dataKind).toBe("invented");
      expect(spec.source).toContain("tests/demo/invent.ts");
    }
  });

  test("are what the script makes of its truths and seeds, reading by reading", () => {
    const values = (readings: readonly { value: number }[]) => readings.map(({ value }) => value);
    expect(
      values(inventedReadings(factorialTruth, factorial.runs, { seed: factorialSeed, spots: 3, repeats: 2 })),
    ).toEqual(values(factorial.readings));
    expect(
      values(inventedReadings(sweepTruth, sweep.runs, { seed: sweepSeed, spots: 1, repeats: 1 })),
    ).toEqual(values(sweep.readings));
    expect(values(recipeTrial.readings(recipe.runs))).toEqual(values(recipe.readings));
    for (const { trial, invented, scattered } of further)
      expect(values(scatteredReadings(trial.runs, invented, scattered))).toEqual(values(trial.readings));
  });

  test("the factorial's 95 % intervals hold the true exponents and the true ratio of edges", () => {
    const fit = fitPowerLaw(factorial, { response: "Ra" });
    for (const [factor, exponent] of [
      ["feed", factorialTruth.feedExponent],
      ["speed", factorialTruth.speedExponent],
    ] as const) {
      const doubled = interval(fit.ratio(factor, 2));
      expect(doubled.low).toBeLessThan(2 ** exponent);
      expect(doubled.high).toBeGreaterThan(2 ** exponent);
    }
    const edge = fit.effects.find(({ factor }) => factor === "edge");
    if (!edge || !isInterval(edge.value)) throw new Error("the edge has no interval");
    expect(edge.value.low).toBeLessThan(factorialTruth.usedEdgeRatio);
    expect(edge.value.high).toBeGreaterThan(factorialTruth.usedEdgeRatio);
  });

  test("the factorial's scatter within a spot lies within what 60 degrees of freedom allow of the true value", () => {
    const { repeats } = observe(factorial, "Ra", { log: true });
    // χ²(60) lies between 35.5 and 91.9 in 99 % of trials: √(35.5/60) = 0.77, √(91.9/60) = 1.24 (readings are rounded to 0.001 µm, which adds nothing to speak of)
    const ratio = (repeats?.withinSpot ?? NaN) / factorialTruth.repeatScatter;
    expect(ratio).toBeGreaterThan(0.77);
    expect(ratio).toBeLessThan(1.24);
  });

  test("the sweep's interval of the feed holds the true exponent together with the wear that rose with it", () => {
    const fit = fitPowerLaw(sweep, { response: "Ra" });
    const doubled = interval(fit.ratio("feed", 2));
    expect(doubled.low).toBeLessThan(2 ** sweepTruth.feedExponent);
    expect(doubled.high).toBeGreaterThan(2 ** sweepTruth.feedExponent);
  });

  test("the remarks find what was planted in the sweep, and nothing of it in the factorial", () => {
    const planted = ["moved-together", "order-follows-factor", "no-replicates", "one-reading-a-run"];
    const found = remarks(sweep, fitPowerLaw(sweep, { response: "Ra" }));
    expect(found.map(({ kind }) => kind)).toEqual(expect.arrayContaining(planted));
    expect(found.find(({ kind }) => kind === "moved-together")?.title).toContain("speed, edge and coolant");
    const clean = remarks(factorial, fitPowerLaw(factorial, { response: "Ra" })).map(({ kind }) => kind);
    for (const kind of planted) expect(clean).not.toContain(kind);
  });

  test("the region of the level point holds the best feed and speed that the surface was made with", () => {
    const { trial } = further.find(({ name }) => name === "seal-face-surface")!;
    const fit = fitPowerLaw(trial, { response: "Ra", terms: termsOf("surface", trial.spec.factors) });
    const { bestFeed: feed, bestSpeed: speed } = surfaceTruth;
    expect(stationaryRegion(fit).contains({ feed, speed })).toBe(true);
  });

  test("of the fifteen effects of the fraction exactly those stand out that it was made with", () => {
    const { trial } = further.find(({ name }) => name === "port-face-fraction")!;
    const terms = termsOf("interactions", trial.spec.factors);
    const judged = fitPowerLaw(trial, { response: "Ra", terms }).unreplicated!;
    const standing = judged.effects.filter(({ term }) => judged.exact.active.includes(term));
    expect(standing.map(({ label }) => label)).toEqual([
      "feed",
      "edge used against fresh",
      "feed × coolant mist",
    ]);
    for (const [place, truth] of [
      fractionTruth.feed,
      fractionTruth.edge,
      fractionTruth.feedCoolant,
    ].entries())
      expect(Math.abs(standing[place].effect - truth)).toBeLessThan(judged.exact.margin);
    expect(judged.exact.terms).toEqual([{ feed: 1 }, { edge: 1 }, { coolant: 1 }, { feed: 1, coolant: 1 }]);
  });
});
