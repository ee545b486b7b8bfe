import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  boundMultiple,
  fitMixed,
  jointRecipe,
  keptRegion,
  nextPasses,
  observeTable,
  settingFor,
} from "../../../src/model/index.ts";
import { mixedInference, reml } from "../../../src/numerics/index.ts";
import { readCoverage } from "../../coverage/coverage-table.ts";
import { splitPlotTrial } from "../mixed/split-plot-trial.ts";

const trial = splitPlotTrial({ seed: 3, plot: 0.06, run: 0.04, reading: 0.02 });
const options = { response: "Ra", model: "power-law" } as const;
const methods = ["satterthwaite", "kenward-roger"] as const;
const promise = { share: 0.95, parts: 1, assurance: 0.95 } as const;

describe("a mixed fit asked at many settings", () => {
  test.each(methods)(
    "has the bounds of its own predictions, mean and next part alike (%s)",
    (smallSample) => {
      const fit = fitMixed(trial, { ...options, smallSample });
      const evaluator = fit.evaluator!();
      expect(evaluator.fresh).toEqual(["whole plot"]);
      const out = new Float64Array(4);
      for (const at of [
        { feed: 0.1, speed: 1300, edge: "fresh" },
        { feed: 0.2, speed: 2400, edge: "used" },
      ]) {
        const point = evaluator.centre();
        for (const [name, setting] of Object.entries(at)) evaluator.set(point, name, setting);
        evaluator.evaluate(point, out);
        const { estimate, mean, single } = fit.predict(at, { confidence: 0.9 });
        const bound = (whom: "mean" | "next", df: number): number =>
          Math.exp(out[0] + evaluator.sd! * boundMultiple({ ...promise, for: whom }, out[1], df));
        expect(Math.exp(out[0])).toBeCloseTo(estimate, 10);
        expect(bound("mean", out[2])).toBeCloseTo(mean!.high, 10);
        expect(bound("next", out[3])).toBeCloseTo(single!.high, 10);
      }
    },
  );

  test("after further runs knows what generalised least squares would, were the variances to stay", () => {
    const feeds = [0.08, 0.24, 0.16, 0.1, 0.22, 0.14, 0.24, 0.08, 0.2, 0.12];
    const plots = [0, 0, 0, 1, 1, 2, 2, 2, 3, 3];
    const values = [1.2, 2.9, 2.1, 0.8, 2.0, 2.3, 3.6, 1.6, 2.2, 1.3];
    const table = {
      columns: [
        { name: "plot", unit: "", values: plots.map(String) },
        { name: "feed", unit: "", values: feeds },
        { name: "Ra", unit: "", values },
      ],
    };
    const fit = fitMixed(observeTable(table, { response: "Ra", factors: ["feed"], random: ["plot"] }));
    const evaluator = fit.evaluator!();
    // The same variances and their covariance by the numerics alone; the rest is 2 × 2 algebra and plain differences.
    const columns = [feeds.map(() => 1), feeds].map((high) => ({ high: Float64Array.from(high) }));
    const found = reml(columns, Float64Array.from(values), [{ level: Int32Array.from(plots), levels: 4 }]);
    if (found.kind === "refused") throw new Error("refused");
    const { variances, ofVariances: w } = mixedInference(found);
    const [here, there] = [0.2, 0.24];
    const varianceAt = (plot: number, residual: number): number => {
      // Per plot of n rows V⁻¹ = (I − plot/(residual + n·plot)·11′)/residual.
      let [a, b, c] = [0, 0, 0];
      for (const k of [0, 1, 2, 3]) {
        const own = feeds.filter((_, i) => plots[i] === k);
        const shared = plot / (residual + own.length * plot);
        const sum = own.reduce((total, feed) => total + feed, 0);
        a += (own.length - shared * own.length ** 2) / residual;
        b += (sum - shared * own.length * sum) / residual;
        c += (own.reduce((total, feed) => total + feed * feed, 0) - shared * sum * sum) / residual;
      }
      const one = 1 / (plot + residual);
      [a, b, c] = [a + one, b + there * one, c + there * there * one];
      return (c - 2 * here * b + here * here * a) / (a * c - b * b);
    };
    const [plot, residual] = variances;
    const total = plot + residual;
    const variance = varianceAt(plot, residual);
    const step = 1e-4 * total;
    const slope = [
      (varianceAt(plot + step, residual) - varianceAt(plot - step, residual)) / (2 * step),
      (varianceAt(plot, residual + step) - varianceAt(plot, residual - step)) / (2 * step),
    ];
    // One more observation of the sum of both variances, worth 1/(2 total²).
    const of = [w[0] + w[1], w[2] + w[3]];
    const whole = 2 * total ** 2 + of[0] + of[1];
    const later = w.map((entry, e) => entry - (of[e >> 1] * of[e & 1]) / whole);
    const form = ([x, y]: readonly number[]): number =>
      x * x * later[0] + x * y * (later[1] + later[2]) + y * y * later[3];
    const point = (feed: number): Float64Array => {
      const one = evaluator.centre();
      evaluator.set(one, "feed", feed);
      return one;
    };
    const white = new Float64Array(evaluator.rank);
    evaluator.whiten(point(there), white);
    const out = new Float64Array(4);
    evaluator.withMore!([white]).evaluate(point(here), out);
    expect(out[1] * total).toBeCloseTo(variance, 9);
    expect(out[2] / ((2 * variance ** 2) / form(slope))).toBeCloseTo(1, 6);
    expect(
      out[3] / ((2 * (variance + total) ** 2) / form([(slope[0] ?? 0) + 1, (slope[1] ?? 0) + 1])),
    ).toBeCloseTo(1, 6);
  });
});

describe("a recipe from a mixed fit", () => {
  test.each([
    ["mean", "mixed: bound of the mean"],
    ["next", "mixed: bound of the next part"],
    ["share", "mixed: bound that 95 % of parts"],
  ] as const)("tells how often the bound held for the %s, as the committed table has it", (whom, named) => {
    const table = readCoverage(readFileSync(new URL("../../coverage/coverage.csv", import.meta.url), "utf8"));
    const shares = table.filter(({ name }) => name.startsWith(named));
    expect(shares.length).toBe(3);
    const [low, high] = [Math.min, Math.max].map((end) => end(...shares.map(({ share }) => 100 * share)));
    expect(ask({ limit: 0.7, for: whom }).notes.join()).toContain(
      `the bound of Ra held in ${low.toFixed(1)} to ${(high + 1e-9).toFixed(1)} % of drawn split plots`,
    );
  });

  const fit = fitMixed(trial, options);
  const ask = (limit: object) =>
    jointRecipe(trial, [fit], {
      limits: { Ra: limit },
      objective: { product: ["feed"] },
      at: { speed: 1800 },
    });

  test.each([
    ["mean", "mean"],
    ["next", "single"],
  ] as const)("is the largest feed whose bound keeps the limit, tried one by one: %s", (whom, which) => {
    const recipe = ask({ limit: 0.7, for: whom });
    const kept = recipe.search.steps[0];
    let best = 0;
    for (const edge of ["fresh", "used"])
      for (let k = Math.ceil(0.05 / kept); k * kept <= 0.3; k++) {
        const at = { feed: Number((k * kept).toPrecision(12)), speed: 1800, edge };
        const prediction = fit.predict(at, { confidence: 0.9 });
        if (prediction.extrapolation.length === 0 && prediction[which]!.high <= 0.7)
          best = Math.max(best, at.feed);
      }
    expect(best).toBeGreaterThan(0);
    expect(recipe.settings["feed"]).toBe(best);
  });

  test("gives less the more is promised, and whole plots count for single parts", () => {
    const feed = (limit: object): number => Number(ask({ limit: 0.7, ...limit }).settings["feed"]);
    expect(feed({ for: "next" })).toBeLessThan(feed({ for: "mean" }));
    expect(feed({ for: "next", parts: 10 })).toBeLessThanOrEqual(feed({ for: "next" }));
    expect(feed({ for: "share", share: 0.99 })).toBeLessThanOrEqual(feed({ for: "share", share: 0.9 }));
  });

  test("says that parts come in set-ups of their own, in limits, notes and proof runs", () => {
    const next = ask({ limit: 0.7, for: "next", parts: 3 });
    expect(next.text).toContain("each of the next 3 parts (each in a set-up of its own) at or below 0.7 µm");
    expect(next.notes.join()).toContain("parts of Ra are taken to come each in a set-up of its own");
    const mean = ask({ limit: 0.7, for: "mean" }).proof[0].plan;
    expect(mean?.outcome).toBe("found");
    if (mean?.outcome !== "found") return;
    expect(mean.ruleText).toContain("at the recipe's setting, each in a set-up of its own:");
    // The scatter of proof parts is that of set-ups and runs together.
    const [plot, run] = fit.variances;
    expect(mean.sigma).toBeCloseTo(Math.sqrt(plot.variance + run.variance), 10);
  });

  test("has a kept set and next passes", () => {
    const region = keptRegion(trial, [fit], { limits: { Ra: { limit: 0.7, for: "mean" } } });
    expect(region.share).toBeGreaterThan(0);
    expect(region.share).toBeLessThan(1);
    const next = nextPasses(trial, [fit], {
      limits: { Ra: { limit: 0.7, for: "share" } },
      objective: { product: ["feed"] },
      passes: 3,
    });
    const left = next.passes.map(({ doubtLeft }) => doubtLeft["Ra"]);
    expect(left).toEqual([...left].sort((a, b) => b - a));
    expect(left[0]).toBeLessThan(1);
  });

  test("calibration takes one part or a wanted mean, and refuses the mean of several readings", () => {
    expect(settingFor(fit, { factor: "feed", response: 0.7 }).estimate).not.toBeNull();
    expect(() => settingFor(fit, { factor: "feed", response: 0.7, readings: 3 })).toThrow();
    const linear = fitMixed(trial, { response: "Ra", model: "main" });
    expect(() => settingFor(linear, { factor: "feed", response: 0.7, readings: 3 })).toThrow(
      /random sources/,
    );
  });
});
