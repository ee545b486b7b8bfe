import { expect, test } from "vitest";
import { fitLinear, fitMixed, fitPowerLaw } from "../../src/model/index.ts";
import { remarks } from "../../src/review/index.ts";
import { edge, feed, madeTrial } from "../model/made-trial.ts";
import { splitPlotTrial } from "../model/mixed/split-plot-trial.ts";

const trial = splitPlotTrial({ seed: 4, plot: 0.1, run: 0.05, reading: 0.03 });
const kind = "whole-plots-as-runs";
const found = (...asked: Parameters<typeof remarks>) =>
  remarks(...asked).filter((remark) => remark.kind === kind);

test("plain least squares of a split plot is remarked with what it claims and how to mend it", () => {
  const [remark] = found(trial, fitPowerLaw(trial));
  expect(remark.title).toBe(
    "Runs that share a set-up of edge were taken for set-ups of their own: the interval of edge can't be trusted.",
  );
  expect(remark.evidence).toMatch(
    /^32 runs share 8 set-ups of edge at 2 settings\. Plain least squares would claim too much of edge: its interval would be ×\/÷ \d\.\d+ on 28 degrees of freedom, where the scatter between levels of set-up allows ×\/÷ \d\.\d+ on 6 degrees of freedom\.$/,
  );
  expect(remark.mend).toBe("Fit with set-ups (whole plots) as a random source: fitMixed(trial).");
});

test("one set-up a setting can't be mended by a fit, only by another set-up", () => {
  const once = madeTrial(
    ["fresh", "used"].flatMap((level, k) =>
      [0.08, 0.24, 0.12, 0.2].map((setting, i) => ({
        settings: { edge: level, feed: setting },
        spots: [[0.2 + 3 * setting + 0.1 * k + 0.01 * ((7 * i + 3 * k) % 5)]],
      })),
    ),
    { factors: [{ ...edge, change: "hard" }, feed] },
  );
  const [remark] = found(once, fitLinear(once));
  expect(remark.evidence).toBe(
    "8 runs share 2 set-ups of edge at 2 settings. With no more set-ups than the model needs, what set-ups differ by can't be told from what edge does.",
  );
  expect(remark.mend).toBe(
    "Cut every setting of edge in a second set-up, then fit with set-ups (whole plots) as a random source.",
  );
});

test("a mixed fit, a model without the hard factor, and runs all set up afresh raise no remark", () => {
  expect(found(trial, fitMixed(trial))).toEqual([]);
  expect(found(trial, fitLinear(trial, { terms: [{}, { feed: 1 }] }))).toEqual([]);
  const afresh = { ...trial, runs: trial.runs.map((run, k) => ({ ...run, wholePlot: k + 1 })) };
  expect(found(afresh, fitLinear(afresh))).toEqual([]);
});
