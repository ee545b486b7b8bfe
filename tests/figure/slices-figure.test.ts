import { expect, test } from "vitest";
import { slicesFigure } from "../../src/figure/index.ts";
import { fitLinear, fitPowerLaw, observeTable, termsOf } from "../../src/model/index.ts";
import { factorialFit, sweepFit } from "./hand-made-fit.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** Corners, axial and centre runs of feed and speed, invented: a valley in feed that lies lower at high speed. */
const coded = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
  [-1.4, 0],
  [1.4, 0],
  [0, -1.4],
  [0, 1.4],
  [0, 0],
  [0, 0],
  [0, 0],
] as const;
const feed = coded.map(([x]) => Number((0.14 * 1.5 ** x).toFixed(3)));
const speed = coded.map(([, y]) => Math.round(220 * 1.3 ** y));
const Ra = coded.map(([x, y], i) =>
  Math.exp(-0.4 + 0.2 * x - 0.15 * y + 0.22 * x * x + 0.06 * x * y + 0.04 * Math.sin(5 * i)),
);
const observed = observeTable(
  {
    columns: [
      { name: "feed", unit: "mm/rev", values: feed },
      { name: "speed", unit: "m/min", values: speed },
      { name: "Ra", unit: "µm", values: Ra },
    ],
  },
  { response: "Ra", factors: ["feed", "speed"] },
);

test("three slices with bands and names, on a scale of ratios, the runs by them in their style", async () => {
  const fit = fitPowerLaw(observed, { terms: termsOf("surface", observed.factors) });
  const figure = slicesFigure(fit);
  const root = expectSound(figure);
  expect(partOf(root, "curve").length).toBe(3);
  expect(partOf(root, "band-mean").length).toBe(3);
  expect(partOf(root, "run-means").length).toBe(11);
  const [low, high] = [Math.min(...speed), Math.max(...speed)];
  expect(partOf(root, "labels").map(({ text }) => text)).toEqual(
    [low, 220, high].map((at) => `speed ${at} m/min`),
  );
  // Five places a slice, as the fit predicts them.
  expect(figure.table.rows.length).toBe(15);
  const [, first, estimate, meanLow, meanHigh] = figure.table.rows[0];
  const told = fit.predict({ feed: Math.min(...feed), speed: low });
  expect(first).toBe(Math.min(...feed));
  expect(estimate).toBeCloseTo(told.estimate, 12);
  expect([meanLow, meanHigh]).toEqual([told.mean!.low, told.mean!.high]);
  await expectPicture(figure, "slices-ratios");
});

test("slices lie where they are asked for, on differences too, and not outside what was cut", async () => {
  const fit = fitLinear(observed, { model: "surface" });
  const figure = slicesFigure(fit, { quantities: ["speed", "feed"], settings: [0.2, 0.1] });
  expectSound(figure);
  expect(new Set(figure.table.rows.map(([apart]) => apart))).toEqual(new Set(["0.1 mm/rev", "0.2 mm/rev"]));
  await expectPicture(figure, "slices-differences");
  expect(() => slicesFigure(fit, { settings: [500] })).toThrow(
    /^a slice at speed 500: expected a setting within what was cut, /,
  );
  expect(() => slicesFigure(fit, { settings: [200, 210, 220, 230, 240] })).toThrow(
    "5 slices: expected one to 4.",
  );
});

test("two quantities are needed", () => {
  expect(() => slicesFigure(sweepFit())).toThrow("a fit without two quantities: expected");
  expect(() => slicesFigure(factorialFit(), { quantities: ["feed", "edge"] })).toThrow(
    "feed and edge: expected two different quantities of the fit. Draw a category with interactionFigure",
  );
});
