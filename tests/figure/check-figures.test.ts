import { expect, test } from "vitest";
import { drawsFigure, influenceFigure, leftOutFigure, residualFigure } from "../../src/figure/index.ts";
import {
  bootstrap,
  crossValidate,
  effectsWithoutRun,
  fitLinear,
  fitPowerLaw,
  isInterval,
  mostInfluential,
  observeTable,
  termsOf,
} from "../../src/model/index.ts";
import { madeTrial } from "../review/made-trial.ts";
import { partOf, textBoxes } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** A factorial of feed, speed and edge cut twice, invented: run 5 lies off. */
const settings = [0, 1].flatMap((again) =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((corner) => {
    const at = (corner * 5 + again * 3) % 8;
    return {
      feed: at & 1 ? 0.24 : 0.08,
      speed: at & 2 ? 300 : 150,
      edge: at & 4 ? "used" : "fresh",
    };
  }),
);
const Ra = settings.map(({ feed, speed, edge }, i) => {
  const level = 14 * feed ** 1.35 * speed ** -0.12 * (edge === "used" ? 1.22 : 1);
  return level * (1 + 0.05 * Math.sin(i * 7.3)) * (i === 4 ? 1.35 : 1);
});
const rows = observeTable(
  {
    columns: [
      { name: "feed", unit: "mm/rev", values: settings.map(({ feed }) => feed) },
      { name: "speed", unit: "m/min", values: settings.map(({ speed }) => speed) },
      { name: "edge", unit: "", values: settings.map(({ edge }) => edge) },
      { name: "Ra", unit: "µm", values: Ra },
    ],
  },
  { response: "Ra", factors: ["feed", "speed", "edge"] },
);
const law = fitPowerLaw(rows);

test("influence: one row an effect, one stroke a run, and the farthest named", async () => {
  const figure = influenceFigure(law);
  const root = expectSound(figure);
  expect(partOf(root, "moves").length).toBe(3 * 16);
  expect(figure.table.rows.length).toBe(3 * 16);
  const [first] = effectsWithoutRun(law, 1)!;
  expect(figure.table.rows[0].slice(1, 4)).toEqual([first.label, first.all, first.without]);
  expect(Math.abs(Number(figure.table.rows[0][4]))).toBeCloseTo(first.moved!, 12);
  expect(textBoxes(root).filter(({ text }) => text === "run 5").length).toBeGreaterThan(0);
  expect(figure.description).toContain(
    `The most influential run by Cook’s distance is run ${mostInfluential(law)!.run};`,
  );
  await expectPicture(figure, "influence");
});

test("influence of a fit that leaves no scatter is refused", () => {
  const full = [...termsOf("interactions", rows.factors), { feed: 1, speed: 1, edge: 1 }];
  const bare = fitLinear({ ...rows, rows: rows.rows.slice(0, 8) }, { terms: full });
  expect(() => influenceFigure(bare)).toThrow("expected at least one effect with its interval");
});

test("draws: bars that hold every draw, with the three intervals below", async () => {
  const drawn = bootstrap(law, { draws: 2000, seed: 3 });
  const figure = drawsFigure(law, drawn, { which: 1 });
  const root = expectSound(figure);
  const [, told] = drawn.figures;
  expect(told.histogram!.counts.reduce((sum, count) => sum + count, 0)).toBe(2000);
  expect(partOf(root, "draws").length).toBe(told.histogram!.counts.length);
  expect(partOf(root, "intervals").length).toBe(3);
  if (!isInterval(told.percentile)) throw new Error("an interval was expected");
  expect(figure.table.rows[0].slice(0, 2)).toEqual([told.percentile.low, told.percentile.high]);
  // The share of draws in the bars within the percentile interval is its confidence, to a bar's worth.
  const { edges, counts } = told.histogram!;
  const { low, high } = told.percentile;
  const inside = counts.reduce(
    (sum, count, k) => sum + (edges[k] >= low && edges[k + 1] <= high ? count : 0),
    0,
  );
  expect(inside / 2000).toBeGreaterThan(0.8);
  expect(inside / 2000).toBeLessThanOrEqual(0.951);
  await expectPicture(figure, "draws");
});

test("draws of a figure that there is not are refused", () => {
  expect(() => drawsFigure(law, bootstrap(law, { draws: 200 }), { which: 7 })).toThrow(
    "figure 7 of 3: expected 0 to 2.",
  );
});

test("cross-validation: each run as the others predict it, on a scale of ratios for logarithms", async () => {
  const validation = crossValidate(law);
  const figure = leftOutFigure(law, validation);
  const root = expectSound(figure);
  expect(partOf(root, "runs").length).toBe(16);
  expect(figure.table.rows[4][1]).toBeCloseTo(Ra[4], 12);
  expect(Math.log(Number(figure.table.rows[4][3]))).toBeCloseTo(validation.rows[4].error!, 12);
  expect(figure.description).toContain("Beyond two predictive standard deviations: run 5.");
  await expectPicture(figure, "left-out");
});

test("residuals along minutes of cut stand where half of each run was done", async () => {
  const feeds = [0.24, 0.08, 0.08, 0.24, 0.16, 0.16, 0.24, 0.08, 0.16, 0.24];
  const trial = madeTrial(
    feeds.map((feed, i) => ({
      settings: { feed },
      readings: [0.4 + 3 * feed + 0.004 * i + 0.01 * ((i * 7) % 3)],
    })),
    { spec: { pass: { kind: "milling", length: "150 mm", approach: "0 mm", overtravel: "0 mm" } } },
  );
  const fit = fitLinear(trial, { terms: [{ feed: 1 }] });
  const figure = residualFigure(fit, { trial, against: "minutes" });
  expectSound(figure);
  const minutes = figure.table.rows.map((row) => Number(row[1]));
  // A pass takes as long as its feed is low: the second is three times as long as the first.
  expect((minutes[1] - minutes[0]) / minutes[0]).toBeCloseTo(1 + 3, 2);
  expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
  await expectPicture(figure, "residuals-minutes");
  expect(() => residualFigure(fit, { against: "minutes" })).toThrow(
    "residuals along minutes of cut without the trial: expected a trial that says how long each run is in cut.",
  );
});
