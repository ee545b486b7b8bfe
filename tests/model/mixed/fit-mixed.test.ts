import { describe, expect, test } from "vitest";
import { fitMixed, isInterval, largestSetting, observeTable } from "../../../src/model/index.ts";
import type { MixedFit, MixedOptions } from "../../../src/model/index.ts";
import type { Trial } from "../../../src/trial/index.ts";
import { tQuantile } from "../../../src/numerics/index.ts";
import { feed, madeTrial } from "../made-trial.ts";
import { denseReml, indicator, multiplied, transposed, type Matrix } from "./dense-reml.ts";
import { splitPlotTrial } from "./split-plot-trial.ts";

const trial = splitPlotTrial({ seed: 4, plot: 0.1, run: 0.05, reading: 0.03 });
const law: MixedOptions = { model: "power-law" };
const fit = fitMixed(trial, law);
const variancesOf = (one: MixedFit) => one.variances.map(({ variance }) => variance);
const sourceOf = (of: readonly number[]) => indicator(of);

/** Columns of the power law in the order of the fit's coefficients: 1, used, ln feed, ln speed. */
function columnsOf(runs: Trial["runs"]): Matrix {
  return runs.map(({ settings }) => [
    1,
    settings["edge"] === "used" ? 1 : 0,
    Math.log(Number(settings["feed"])),
    Math.log(Number(settings["speed"])),
  ]);
}

/** Mean of the logarithms of a run's readings: what a row of the fit is. */
function meansOf({ runs, readings }: Trial): number[] {
  return runs.map(({ run }) => {
    const own = readings.filter((reading) => reading.run === run).map(({ value }) => Math.log(value));
    return own.reduce((sum, value) => sum + value, 0) / own.length;
  });
}

const wholePlot = trial.runs.map(({ wholePlot: of }) => of! - 1);

describe("whole plots of a trial, by a second road with dense matrices", () => {
  const X = columnsOf(trial.runs);
  const y = meansOf(trial);
  const Z = sourceOf(wholePlot);

  test("the restricted likelihood is level at the variances, and nothing near is better", () => {
    const at = variancesOf(fit);
    const here = denseReml(X, y, [Z], at).deviance;
    expect(fit.deviance).toBeCloseTo(here, 8);
    for (const [i, by] of [
      [0, 1.05],
      [0, 0.95],
      [1, 1.05],
      [1, 0.95],
    ] as const) {
      const moved = at.map((value, k) => (k === i ? value * by : value));
      expect(denseReml(X, y, [Z], moved).deviance).toBeGreaterThan(here);
    }
  });

  test("estimates, standard errors, predicted plots, residuals and leverages agree", () => {
    const dense = denseReml(X, y, [Z], variancesOf(fit));
    fit.coefficients.forEach(({ estimate, standardError }, k) => {
      expect(estimate).toBeCloseTo(dense.estimates[k], 9);
      expect(standardError).toBeCloseTo(Math.sqrt(dense.covariance[k][k]), 9);
    });
    fit.levelEffects[0].levels.forEach(({ effect }, k) =>
      expect(effect).toBeCloseTo(dense.levelEffects[0][k], 9),
    );
    fit.rows.forEach((row, i) => {
      expect(row.residual).toBeCloseTo(dense.residuals[i], 9);
      expect(row.leverage).toBeCloseTo(dense.leverage[i], 9);
    });
  });

  test("unequal whole plots: the same", () => {
    const keep = new Set([1, 2, 3, 5, 6, 8, 9, 10, 12, 13, 14, 15, 16, 17, 20, 21, 22, 25, 26, 27, 29, 31]);
    const some: Trial = {
      ...trial,
      runs: trial.runs.filter(({ run }) => keep.has(run)),
      readings: trial.readings.filter(({ run }) => keep.has(run)),
    };
    const found = fitMixed(some, law);
    const dense = denseReml(
      columnsOf(some.runs),
      meansOf(some),
      [sourceOf(some.runs.map(({ wholePlot: of }) => of! - 1))],
      variancesOf(found),
    );
    expect(found.deviance).toBeCloseTo(dense.deviance, 8);
    found.rows.forEach((row, i) => expect(row.leverage).toBeCloseTo(dense.leverage[i], 9));
    found.coefficients.forEach(({ standardError }, k) =>
      expect(standardError).toBeCloseTo(Math.sqrt(dense.covariance[k][k]), 9),
    );
  });

  test("predictions: the mean, a run in a fresh whole plot, and no reading where readings are averaged", () => {
    const at = { edge: "used", feed: 0.12, speed: 2000 };
    const { estimate, mean, single, reading } = fit.predict(at);
    const x = [[1, 1, Math.log(0.12), Math.log(2000)]];
    const dense = denseReml(X, y, [Z], variancesOf(fit));
    const told = x[0].reduce((sum, value, k) => sum + value * dense.estimates[k], 0);
    expect(estimate).toBeCloseTo(Math.exp(told), 9);
    const variance = multiplied(multiplied(x, dense.covariance), transposed(x))[0][0];
    // The mean at one edge hangs on whole plots (6 df) and, less, on runs (22): its df lie between.
    const halfMean = Math.log(mean!.high / mean!.low) / 2;
    const reach = halfMean / Math.sqrt(variance);
    expect(reach).toBeLessThanOrEqual(tQuantile(0.975, 6));
    expect(reach).toBeGreaterThan(tQuantile(0.975, 22));
    const [plot, run] = variancesOf(fit);
    const ofRun = Math.log(single!.high / single!.low) / 2 / Math.sqrt(variance + plot + run);
    expect(ofRun).toBeLessThanOrEqual(tQuantile(0.975, 6));
    expect(ofRun).toBeGreaterThan(tQuantile(0.975, 28));
    expect(reading).toBeNull();
  });
});

describe("readings within runs and spots", () => {
  /** Six runs, three spots, two repeats: sums of squares by hand below. */
  const values = [0.5, 0.53, 0.47, 0.54, 0.48, 0.52].map((level, r) =>
    [0, 1, 2].map((s) =>
      [0, 1].map((k) => level + 0.02 * ((5 * r + 3 * s) % 4) + 0.006 * ((r + 2 * s + 3 * k) % 5)),
    ),
  );
  const nested = madeTrial(
    values.map((spots) => ({ settings: { feed: 0.1 }, spots })),
    { factors: [feed] },
  );
  const found = fitMixed(nested, { terms: [{}], random: ["run", "spot"] });

  test("the variances are those of the balanced analysis of variance", () => {
    const mean = (list: readonly number[]) => list.reduce((sum, one) => sum + one, 0) / list.length;
    const spot = values.map((run) => run.map(mean));
    const run = spot.map(mean);
    const grand = mean(run);
    const square = (list: readonly number[]) => list.reduce((sum, one) => sum + one * one, 0);
    const between = (6 * square(run.map((one) => one - grand))) / 5;
    const spots = (2 * square(spot.flatMap((list, r) => list.map((one) => one - run[r])))) / 12;
    const within =
      square(values.flatMap((list, r) => list.flatMap((two, s) => two.map((one) => one - spot[r][s])))) / 18;
    const [ofRun, ofSpot, ofReading] = variancesOf(found);
    expect(ofReading).toBeCloseTo(within, 10);
    expect(ofSpot).toBeCloseTo((spots - within) / 2, 10);
    expect(ofRun).toBeCloseTo((between - spots) / 6, 10);
    expect(found.coefficients[0].df).toBeCloseTo(5, 8);
  });

  test("a single reading scatters by every source, a run (the mean of all that could be read on it) by runs alone", () => {
    const { reading, single, text } = found.predict({ feed: 0.1 });
    const half = (range: { low: number; high: number } | null) => (range!.high - range!.low) / 2;
    const [ofRun, ofSpot, ofReading] = variancesOf(found);
    const ofMean = found.coefficients[0].standardError! ** 2;
    for (const [width, variance] of [
      [half(single), ofMean + ofRun],
      [half(reading), ofMean + ofRun + ofSpot + ofReading],
    ]) {
      // Degrees of freedom by Satterthwaite lie between those of runs alone, less what runs are not sure of, and of all readings.
      expect(width / Math.sqrt(variance)).toBeGreaterThan(tQuantile(0.975, 35));
      expect(width / Math.sqrt(variance)).toBeLessThan(tQuantile(0.975, 2));
    }
    expect(text).toContain("A single reading: 95 %");
  });

  test("runs are counted by their own numbers: spot 1 of one run is not spot 1 of another", () => {
    expect(found.variances.map(({ source, levels }) => [source, levels])).toEqual([
      ["run", 6],
      ["spot", 18],
      ["residual", 36],
    ]);
  });
});

test("blocks as a random source are not fitted at a level of their own as well", () => {
  const runs = [0.3, 0.42, 0.36, 0.5].flatMap((level, b) =>
    [0.08, 0.24].flatMap((setting, i) =>
      [0, 1].map((k) => ({
        settings: { feed: setting },
        block: b + 1,
        spots: [[level + 2 * setting + 0.013 * ((3 * b + 5 * i + 7 * k) % 6)]],
      })),
    ),
  );
  const blocked = madeTrial(runs, { factors: [feed] });
  const random = fitMixed(blocked, { random: ["block"] });
  expect(random.blocks).toBeNull();
  expect(random.coefficients.map(({ label }) => label)).toEqual(["intercept", "feed"]);
  expect(random.variances[0]).toMatchObject({ source: "block", levels: 4 });
  // Feed was cut in every block alike: it is judged within blocks, on 16 − 4 − 1 degrees of freedom.
  expect(random.coefficients[1].df).toBeCloseTo(11, 8);
});

describe("laws", () => {
  test("the order of runs changes nothing", () => {
    // Whole plots must stay together, so whole plots are turned round, and runs within them.
    const turned: Trial = {
      ...trial,
      runs: [...trial.runs].reverse(),
      readings: [...trial.readings].reverse(),
    };
    const other = fitMixed(turned, law);
    expect(other.deviance).toBeCloseTo(fit.deviance, 9);
    other.coefficients.forEach(({ estimate, df }, k) => {
      expect(estimate).toBeCloseTo(fit.coefficients[k].estimate, 9);
      expect(df).toBeCloseTo(fit.coefficients[k].df, 6);
    });
  });

  test("scaling the response scales a power law by a factor alone", () => {
    const scaled: Trial = {
      ...trial,
      readings: trial.readings.map((reading) => ({ ...reading, value: 40 * reading.value })),
    };
    const other = fitMixed(scaled, law);
    variancesOf(other).forEach((variance, k) => expect(variance).toBeCloseTo(variancesOf(fit)[k], 10));
    expect(other.coefficients[0].estimate).toBeCloseTo(fit.coefficients[0].estimate + Math.log(40), 9);
    const linear = fitMixed(trial);
    const wide = fitMixed(scaled);
    variancesOf(wide).forEach((variance, k) =>
      expect(variance / variancesOf(linear)[k]).toBeCloseTo(1600, 4),
    );
    wide.variances.forEach(({ share }, k) => expect(share).toBeCloseTo(linear.variances[k].share, 9));
  });

  test("coding the factors changes no effect, no variance and no prediction", () => {
    const coded = fitMixed(trial, { ...law, coded: true });
    coded.effects.forEach(({ value, p }, k) => {
      const other = fit.effects[k].value;
      if (!isInterval(value) || !isInterval(other)) throw new Error("no interval");
      expect(value.low).toBeCloseTo(other.low, 9);
      expect(value.high).toBeCloseTo(other.high, 9);
      expect(p).toBeCloseTo(fit.effects[k].p!, 9);
    });
    variancesOf(coded).forEach((variance, k) => expect(variance).toBeCloseTo(variancesOf(fit)[k], 11));
    expect(coded.predict({ feed: 0.1 }).single!.low).toBeCloseTo(fit.predict({ feed: 0.1 }).single!.low, 9);
  });
});

test("power law: the intervals hold the exponents and the ratio that the trial was made with", () => {
  for (const [factor, exponent] of [
    ["feed", 1.2],
    ["speed", -0.15],
  ] as const) {
    const doubled = fit.ratio(factor, 2);
    if (!isInterval(doubled)) throw new Error(doubled.reason);
    expect(doubled.low).toBeLessThan(2 ** exponent);
    expect(doubled.high).toBeGreaterThan(2 ** exponent);
  }
});

test("recipes keep the limit by the mixed fit's own bounds; a fit to a table has none", () => {
  const { recipes } = fit.recipes({ limit: 0.8 });
  expect(recipes).toHaveLength(4);
  const one = recipes.find(
    ({ settings, for: whom }) => settings["edge"] === "fresh" && whom === "next-part",
  )!;
  const asked = { factor: "feed", limit: 0.8, side: "at-most", for: "next-part", increment: 0.01 } as const;
  expect(one.setting).toBe(largestSetting(fit, { ...asked, at: { edge: "fresh" } }).setting);
  // A bound of 95 % on one side is the end of an interval of 90 %.
  const high = (setting: number) =>
    fit.predict({ ...one.settings, feed: setting }, { confidence: 0.9 }).single!.high;
  expect(high(one.setting!)).toBeLessThanOrEqual(0.8);
  expect(high(one.setting! + 0.01)).toBeGreaterThan(0.8);
  const table = observeTable(
    {
      columns: [
        { name: "day", unit: "", values: ["a", "a", "b", "b", "c", "c"] },
        { name: "y", unit: "", values: [1, 2, 4, 6, 3, 3.5] },
      ],
    },
    { response: "y", factors: [], random: ["day"] },
  );
  expect(() => fitMixed(table).recipes()).toThrow(
    "recipes of a fit to a table; expected a fit to a trial. Ask largestSetting(fit, …), which needs no trial.",
  );
});

test("a whole plot lost to its readings is not a level", () => {
  const without: Trial = {
    ...trial,
    readings: trial.readings.map((one) => (wholePlot[one.run - 1] === 0 ? { ...one, void: "chatter" } : one)),
  };
  const found = fitMixed(without, law);
  expect(found.levelEffects[0].levels).toHaveLength(7);
});
