import { expect, test } from "vitest";
import { scatterShareFigure } from "../../src/figure/index.ts";
import type { RepeatScatter } from "../../src/model/index.ts";
import { partOf, textBoxes } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const response = { name: "Ra", unit: "µm" };
const scatter: RepeatScatter = {
  readings: 48,
  runs: 12,
  withinSpot: 0.012,
  withinSpotDf: 24,
  betweenSpots: 0.021,
  betweenSpotsDf: 12,
  withinRun: 0.0242,
  withinRunDf: 36,
  betweenRuns: 0.04,
  betweenRunsDf: 6,
  shares: [
    { source: "repeat", share: 0.0659 },
    { source: "spot", share: 0.2018 },
    { source: "run", share: 0.7323 },
  ],
  logScale: false,
  notes: [],
};

test("shares fill the bar in proportion", async () => {
  const figure = scatterShareFigure(scatter, { response });
  const root = expectSound(figure);
  const widths = partOf(root, "shares").map((bar) => Number(bar.attributes["width"]));
  const whole = widths.reduce((sum, width) => sum + width, 0);
  expect(widths.map((width) => width / whole)).toEqual([
    expect.closeTo(0.0659, 3),
    expect.closeTo(0.2018, 3),
    expect.closeTo(0.7323, 3),
  ]);
  expect(textBoxes(root).map((box) => box.text)).toContain("run to run: 73 %");
  await expectPicture(figure, "scatter-shares");
});

test("on logarithms a standard deviation is told as a ratio", () => {
  const figure = scatterShareFigure({ ...scatter, logScale: true }, { response });
  expectSound(figure);
  expect(figure.description).toContain("standard deviation a ratio of ×1.04"); // exp 0.04 = 1.0408
});

test("what could not be told is said", () => {
  const figure = scatterShareFigure(
    {
      ...scatter,
      betweenRuns: null,
      shares: scatter.shares.slice(0, 2),
      notes: ["Run to run can't be told: no setting was cut twice."],
    },
    { response },
  );
  expectSound(figure);
  expect(figure.description).toContain("no setting was cut twice");
});

test("scatter without shares is refused with the model's own note", () => {
  expect(() =>
    scatterShareFigure({ ...scatter, shares: [], notes: ["Each row is one reading."] }, { response }),
  ).toThrow(
    "scatter whose shares can't be told: expected repeats, spots or replicate runs. Each row is one reading.",
  );
});
