import { describe, expect, test } from "vitest";
import { extractData, fitAsked, fitAsPlanned, publish } from "../../src/finding/index.ts";
import { fitLinear, fitMixed, fitPowerLaw, isInterval, isMixedFit } from "../../src/model/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { madeTrial, edge, feed } from "../model/made-trial.ts";
import { splitPlotTrial } from "../model/mixed/split-plot-trial.ts";

const trial = splitPlotTrial({ seed: 4, plot: 0.1, run: 0.05, reading: 0.03 });

/** The same readings, with every run in a whole plot of its own. */
const allSetUpAfresh: Trial = {
  ...trial,
  runs: trial.runs.map((run, place) => ({ ...run, wholePlot: place + 1 })),
};

/** Edge set up once a level: 4 runs with a fresh edge, then 4 with a used one. */
const setUpOnce = madeTrial(
  ["fresh", "used"].flatMap((level, k) =>
    [0.08, 0.24, 0.12, 0.2].map((setting, i) => ({
      settings: { edge: level, feed: setting },
      spots: [[0.2 + 3 * setting + 0.1 * k + 0.01 * ((7 * i + 3 * k) % 5)]],
    })),
  ),
  { factors: [{ ...edge, change: "hard" }, feed] },
);

describe("a fit as the plan asks", () => {
  test("has whole plots as a random source where runs share a set-up, and says so", () => {
    const { fit, model, wholePlots } = fitAsPlanned(trial, { response: "Ra", model: "power-law" });
    if (!isMixedFit(fit)) throw new Error("plain least squares");
    const direct = fitMixed(trial, { model: "power-law" });
    expect(model).toBe("power-law");
    expect(fit.random).toEqual(["whole plot"]);
    expect(fit.coefficients).toEqual(direct.coefficients);
    expect(wholePlots).toBe(
      "The 32 runs stand in 8 set-ups of edge (whole plots), so edge is judged by the scatter between set-ups.",
    );
    // The edge is judged by 8 whole plots less one a level, feed and speed by what is left within them.
    const df = Object.fromEntries(fit.coefficients.map(({ label, df }) => [label, df]));
    expect(df["edge used against fresh"]).toBeCloseTo(6, 8);
    expect(df["feed"]).toBeCloseTo(22, 8);
  });

  test("is plain least squares where no factor is hard to change or every run is a set-up of its own", () => {
    const { fit, wholePlots } = fitAsPlanned(allSetUpAfresh, { response: "Ra", model: "power-law" });
    expect(isMixedFit(fit)).toBe(false);
    expect(wholePlots).toBe("");
    expect(fit.coefficients).toEqual(fitPowerLaw(allSetUpAfresh, { response: "Ra" }).coefficients);
  });

  test("says what can't be known where each setting was set up once", () => {
    const { fit, wholePlots } = fitAsPlanned(setUpOnce, { response: "Ra", model: "main" });
    expect(isMixedFit(fit)).toBe(false);
    expect(fit.coefficients).toEqual(fitLinear(setUpOnce, { response: "Ra" }).coefficients);
    expect(wholePlots).toBe(
      "Plain least squares was fitted, which takes every run for a set-up of its own: the interval of edge is too narrow by what set-ups differ, and that can't be told here (whole plot as a random source, where every difference between its 2 levels is one of edge as well; expected settings that were cut on more than one whole plot. Whether edge or whole plot made the difference can't be told: leave one of them out, or cut each setting on a second whole plot).",
    );
  });

  test("the published page shows the sources of scatter, and its record holds them", () => {
    const page = publish(trial, { date: "2026-11-25" });
    expect(page.html).toContain("judged by the scatter between set-ups");
    expect(page.html).toContain("From one set-up to another Ra scatters by");
    expect(page.html).toContain("What the scatter of Ra is made of");
    expect(page.html).toContain("Plain least squares would claim too much of edge");
    expect(page.html).not.toMatch(/NaN|undefined/);
    const model = extractData(page.html).models["Ra"] as unknown as { variances: { source: string }[] };
    expect(model.variances.map(({ source }) => source)).toEqual(["whole plot", "residual"]);
  });

  test("the interval of the edge is wider than plain least squares would have it, that of the feed narrower", () => {
    const { fit } = fitAsPlanned(trial, { response: "Ra", model: "power-law" });
    const plain = fitPowerLaw(trial, { response: "Ra" });
    const width = (from: typeof plain, factor: string) => {
      const value = from.effects.find((one) => one.factor === factor)!.value;
      if (!isInterval(value)) throw new Error(value.reason);
      return Math.log(value.high / value.low);
    };
    expect(width(fit, "edge")).toBeGreaterThan(1.5 * width(plain, "edge"));
    expect(width(fit, "feed")).toBeLessThan(width(plain, "feed"));
  });
});

describe("a fit as it was asked for", () => {
  test("is the plan's, unmarked, where that is asked for by name or not at all", () => {
    const theirs = fitAsked(trial, { response: "Ra" });
    const named = fitAsked(trial, { response: "Ra", model: theirs.model });
    expect(theirs.choice).not.toBeNull();
    for (const { fit, picked } of [theirs, named]) {
      expect(picked).toEqual([]);
      expect(fit.chosenFrom).toBeUndefined();
    }
    expect(named.fit.coefficients).toEqual(theirs.fit.coefficients);
  });

  test("carries the mark where another was picked, mixed fits too, and says why none of their runs is left out", () => {
    const { fit, picked } = fitAsked(trial, { response: "Ra", model: "main" });
    expect(isMixedFit(fit)).toBe(true);
    expect(fit.chosenFrom?.how).toBe(
      "one picked by hand after the readings were in, in place of the plan's (power law)",
    );
    expect(picked[0]).toContain(fit.chosenFrom?.how);
    expect(picked[1]).toMatch(/^Runs are not left out in turn here: those of one set-up hang together/);
    expect(picked).toHaveLength(2);
    expect(publish(trial, { date: "2026-11-25", models: { Ra: "main" } }).html).toContain(
      "This model was picked after the readings were in",
    );
  });
});
