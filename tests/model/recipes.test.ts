import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, largestSetting, observeTable, recipes } from "../../src/model/index.ts";
import { seededRandom, tQuantile } from "../../src/numerics/index.ts";
import { quantity } from "../../src/units/index.ts";
import { edge, feed, madeTrial } from "./made-trial.ts";

const speed = { name: "speed", kind: "quantity", unit: "rev/min", low: 800, high: 1200 };
const shop = {
  held: { depth: "0.1 mm" },
  cutter: { diameter: "80 mm", teeth: 1 },
  pass: { length: "180 mm", width: "60 mm" },
  today: { feed: "0.1 mm/rev", speed: 1000, edge: "fresh" },
};

/** Ra = 10 · feed^1.5, a fifth more with a used edge, scatter of a few per cent from a seed. */
function face(scatter: number, more: Readonly<Record<string, unknown>> = shop) {
  const random = seededRandom(3);
  const corners = [0.08, 0.16, 0.24].flatMap((f) =>
    [800, 1200].flatMap((s) => ["fresh", "used"].map((e) => ({ feed: f, speed: s, edge: e }))),
  );
  const runs = [...corners, ...corners].map((settings) => ({
    settings,
    spots: [
      [
        10 *
          settings.feed ** 1.5 *
          (settings.edge === "used" ? 1.2 : 1) *
          Math.exp(scatter * random.normal()),
      ],
    ],
  }));
  return madeTrial(runs, { factors: [feed, speed, edge], more });
}

describe("largestSetting", () => {
  const x = [0.08, 0.08, 0.12, 0.16, 0.2, 0.24];
  const y = [0.41, 0.39, 0.6, 0.81, 1.0, 1.19];
  const line = fitLinear(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "mm/rev", values: x },
          { name: "Ra", unit: "µm", values: y },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
  );

  test("is where the one-sided bound meets the limit, for the mean and for the next part", () => {
    const n = x.length;
    const mx = x.reduce((a, b) => a + b) / n;
    const my = y.reduce((a, b) => a + b) / n;
    const sxx = x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
    const slope = x.reduce((sum, v, i) => sum + (v - mx) * (y[i] - my), 0) / sxx;
    const s = Math.sqrt(y.reduce((sum, v, i) => sum + (v - my - slope * (x[i] - mx)) ** 2, 0) / (n - 2));
    const bound = (at: number, extra: number) =>
      my + slope * (at - mx) + tQuantile(0.95, n - 2) * s * Math.sqrt(extra + 1 / n + (at - mx) ** 2 / sxx);
    for (const [whom, extra] of [
      ["mean", 0],
      ["next-part", 1],
    ] as const) {
      const answer = largestSetting(line, { factor: "feed", limit: 0.8, for: whom, increment: 0.001 });
      expect(bound(answer.edge!, extra)).toBeCloseTo(0.8, 12);
      expect(answer.bound).toBeCloseTo(bound(answer.setting!, extra), 12);
      expect(answer.setting!).toBeLessThanOrEqual(answer.edge!);
      expect(answer.edge! - answer.setting!).toBeLessThan(0.001);
      expect(Number.isInteger(Math.round(answer.setting! * 1e9) / 1e6)).toBe(true);
    }
  });

  test("with an assurance of one half is where the estimate itself meets the limit", () => {
    const answer = largestSetting(line, { factor: "feed", limit: 0.8, assurance: 0.5 });
    expect(line.predict({ feed: answer.edge! }).estimate).toBeCloseTo(0.8, 12);
  });

  test("falls as the assurance rises", () => {
    const edges = [0.5, 0.8, 0.95, 0.99].map(
      (assurance) => largestSetting(line, { factor: "feed", limit: 0.8, assurance }).edge!,
    );
    expect([...edges].sort((a, b) => b - a)).toEqual(edges);
  });

  test("keeps a lower limit from above", () => {
    const answer = largestSetting(line, { factor: "feed", limit: 0.8, side: "at-least", for: "mean" });
    expect(answer.safe).toHaveLength(1);
    expect(answer.setting).toBe(0.24);
    expect(line.predict({ feed: answer.safe[0].low }, { confidence: 0.9 }).mean!.low).toBeCloseTo(0.8, 10);
  });

  test("says when no setting qualifies, and which comes nearest", () => {
    const answer = largestSetting(line, { factor: "feed", limit: 0.3 });
    expect(answer).toMatchObject({
      outcome: "none",
      setting: null,
      safe: [],
      reason: "no setting that was searched keeps the limit",
    });
    expect(answer.settings).toEqual({ feed: 0.08 });
    expect(answer.bound!).toBeGreaterThan(0.3);
  });

  test("says when the whole range qualifies, and goes beyond it only when insisted on", () => {
    expect(largestSetting(line, { factor: "feed", limit: 5 })).toMatchObject({
      outcome: "whole-range",
      setting: 0.24,
      extrapolation: [],
    });
    const beyond = largestSetting(line, { factor: "feed", limit: 2, extrapolate: 0.5 });
    expect(beyond.setting!).toBeGreaterThan(0.24);
    expect(beyond.extrapolation).toEqual(["feed"]);
    expect(() => largestSetting(line, { factor: "feed", limit: 5, extrapolate: 0.2 })).toThrow(
      "a search of feed up to 0.2; expected a setting above 0.24, the largest that was cut. Leave extrapolate out to search what was cut.",
    );
  });

  test("names stretches that are not one piece, and takes the upper one", () => {
    const feeds = [0.08, 0.08, 0.12, 0.12, 0.16, 0.16, 0.2, 0.2, 0.24, 0.24];
    const humped = fitLinear(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "mm/rev", values: feeds },
            {
              name: "Ra",
              unit: "µm",
              values: feeds.map((f, i) => 1 - 60 * (f - 0.16) ** 2 + (i % 2) * 0.01),
            },
          ],
        },
        { response: "Ra", factors: ["feed"] },
      ),
      { model: "surface" },
    );
    const answer = largestSetting(humped, { factor: "feed", limit: 0.8, for: "mean" });
    expect(answer.safe).toHaveLength(2);
    expect(answer.setting).toBe(0.24);
    expect(answer.reason).toBe(
      "the settings that keep the limit are not one stretch: some below this one break it",
    );
  });

  test("has none where no step of the machine lies among the settings that qualify", () => {
    const answer = largestSetting(line, { factor: "feed", limit: 0.6, for: "mean", increment: 0.1 });
    expect(answer.safe).toHaveLength(1);
    expect(answer).toMatchObject({ outcome: "found", setting: 0.1 });
    expect(largestSetting(line, { factor: "feed", limit: 0.45, for: "mean", increment: 0.1 })).toMatchObject({
      outcome: "none",
      setting: null,
      reason: "no multiple of 0.1 lies among the settings that keep the limit",
    });
  });

  test("refuses what it can't answer", () => {
    expect(() => largestSetting(line, { factor: "edge", limit: 1 })).toThrow(
      'the unknown factor "edge"; expected a quantity: feed.',
    );
    expect(() => largestSetting(line, { factor: "feed", limit: 1, assurance: 0.4 })).toThrow(
      "an assurance of 0.4",
    );
    expect(() => largestSetting(line, { factor: "feed", limit: NaN })).toThrow("the limit NaN");
  });
});

describe("recipes", () => {
  test("give the largest feed on the machine's steps, judged again as rounded, with what it gains on today", () => {
    const trial = face(0.03);
    const fit = fitPowerLaw(trial);
    const { recipes: all, table } = recipes(trial, fit, { assurance: 0.95 });
    expect(all.map((one) => [one.settings["edge"], one.for, one.setting])).toEqual([
      ["fresh", "mean", 0.18],
      ["fresh", "next-part", 0.17],
      ["used", "mean", 0.16],
      ["used", "next-part", 0.15],
    ]);
    const [first] = all;
    expect(first.bound!).toBeLessThanOrEqual(0.8);
    expect(fit.predict({ ...first.settings, feed: 0.19 }, { confidence: 0.9 }).mean!.high).toBeGreaterThan(
      0.8,
    );
    // 180 mm and 40 mm approach at 0.18 · 1000 mm/min; 60 · 0.1 · 180 mm³/min.
    expect(first.minutes).toBeCloseTo(220 / 180, 12);
    expect(first.removalRateCm3PerMin).toBeCloseTo(1.08, 12);
    expect(first.removalRatio).toBeCloseTo(1.8, 12);
    expect(first.minutesRatio).toBeCloseTo(1 / 1.8, 12);
    expect(first.text).toMatch(
      /^Feed 0\.18 mm\/rev \(speed 1000 rev\/min, edge fresh\) keeps the median of Ra at or below 0\.8 µm with 95 % assurance; bound 0\.7\d+ µm\. A pass takes 1\.22 min, 0\.556 times today's and removal is 1\.08 cm³\/min, 1\.80 times today's\.$/,
    );
    expect(table.columns).toEqual([
      "largest",
      "at",
      "for",
      "estimate",
      "bound",
      "minutes a pass",
      "removal [cm³/min]",
      "removal against today",
    ]);
    expect(table.rows).toHaveLength(4);
  });

  test("are the same asked of the fit, and with the limit in inches", () => {
    const trial = face(0.03);
    const fit = fitPowerLaw(trial);
    expect(fit.recipes({ for: "mean" }).table).toEqual(recipes(trial, fit, { for: "mean" }).table);
    const inches = fit.recipes({ limit: quantity(0.8 / 0.0254, "µin") });
    expect(inches.recipes.map(({ setting }) => setting)).toEqual(
      fit.recipes().recipes.map(({ setting }) => setting),
    );
  });

  test("are refused outside what was cut, or marked when insisted on", () => {
    const fit = fitPowerLaw(face(0.03));
    expect(() => fit.recipes({ at: { speed: 2000 } })).toThrow(
      "speed 2000, outside what was cut; expected settings within what was cut. Cut runs there, or insist with extrapolate.",
    );
    const [insisted] = fit.recipes({
      limit: 3,
      extrapolate: 0.4,
      for: "mean",
      at: { edge: "fresh" },
    }).recipes;
    expect(insisted.setting!).toBeGreaterThan(0.24);
    expect(insisted.text).toContain("Extrapolation: feed outside what was cut; prove it first.");
  });

  test("say why there is no bound where no run is left to show the scatter", () => {
    const runs = [0.08, 0.24].map((f) => ({ settings: { feed: f }, spots: [[f * 5]] }));
    const fit = fitLinear(madeTrial(runs, { factors: [feed] }));
    const [recipe] = fit.recipes({ for: "mean" }).recipes;
    expect(recipe).toMatchObject({ outcome: "no-bound", setting: null, bound: null, reason: fit.noInterval });
    expect(recipe.text).toContain("No recipe for feed");
  });

  test("do without figures that the trial does not state", () => {
    const fit = fitPowerLaw(face(0.03, {}));
    const { recipes: all, table } = fit.recipes();
    expect(all[0]).toMatchObject({ minutes: null, removalRateCm3PerMin: null, today: null });
    expect(table.columns).toEqual(["largest", "at", "for", "estimate", "bound"]);
  });

  test("need a limit, and a side where the response aims at a target", () => {
    const noLimit = madeTrial([], { factors: [feed], response: { name: "Ra", unit: "µm", aim: "smaller" } });
    const fit = fitPowerLaw(face(0.03));
    expect(() => recipes(noLimit, fit)).toThrow(
      "no limit on Ra; expected a limit. State it in the trial's response, or give it.",
    );
    const target = madeTrial([], {
      factors: [feed],
      response: { name: "Ra", unit: "µm", aim: "target", limit: 0.8 },
    });
    expect(() => recipes(target, fit)).toThrow(
      'Ra, which aims at a target; expected a side of the limit to keep: "at-most" or "at-least".',
    );
  });

  test("can't be asked of a fit to a table, which is told what to ask", () => {
    const fit = fitLinear(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "", values: [1, 2, 3] },
            { name: "Ra", unit: "", values: [1, 2, 4] },
          ],
        },
        { response: "Ra", factors: ["feed"] },
      ),
    );
    expect(() => fit.recipes()).toThrow(
      "recipes of a fit to a table; expected a fit to a trial. Ask largestSetting(fit, …), which needs no trial.",
    );
  });
});
