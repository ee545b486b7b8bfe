import { expect, test } from "vitest";
import { effectFigure } from "../../src/figure/index.ts";
import { edge, factorialFit, feed, handMadeEffect, speed } from "./hand-made-fit.ts";
import { partOf, textBoxes } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("ratios stand on a scale of ratios with ×1 for no change, the largest effect first", async () => {
  const figure = effectFigure(factorialFit());
  const root = expectSound(figure);
  expect(partOf(root, "intervals").length).toBe(3);
  expect(partOf(root, "interval-ends").length).toBe(6);
  expect(textBoxes(root).map((box) => box.text)).toEqual(
    expect.arrayContaining(["×1", "×4.40", "×1.22", "×0.97"]),
  );
  expect(figure.table.rows.map((row) => row[0])).toEqual(["feed", "edge", "speed"]);
  await expectPicture(figure, "effects-ratios");
});

test("an interval that keeps to one side is filled, one that does not is open", () => {
  const root = expectSound(effectFigure(factorialFit(), { order: "given" }));
  const fills = partOf(root, "estimates").map((mark) => mark.attributes["fill"]);
  expect(fills).toEqual(["#1c4d94", "#ffffff", "#1c4d94"]); // feed, speed (0.9 to 1.04), edge
});

test("interval and estimate are in proportion on the scale of ratios", () => {
  const root = expectSound(effectFigure(factorialFit(), { order: "given" }));
  const bars = partOf(root, "intervals").map((bar) =>
    /M([\d.]+),[\d.]+L([\d.]+)/u.exec(bar.attributes["d"])!,
  );
  const none = Number(partOf(root, "no-change")[0].attributes["x1"]);
  const perLog = (Number(bars[0][2]) - none) / Math.log(4.7);
  const expected = [4.1, 4.7, 0.9, 1.04, 1.14, 1.31];
  bars.forEach(([, low, high], index) => {
    // Two decimals of the drawing.
    expect(Number(low)).toBeCloseTo(none + perLog * Math.log(expected[2 * index]), 1);
    expect(Number(high)).toBeCloseTo(none + perLog * Math.log(expected[2 * index + 1]), 1);
  });
});

test("differences carry the response's unit, in the reader's system", async () => {
  const fit = factorialFit({
    logScale: false,
    effects: [
      handMadeEffect(feed, { estimate: 1.01, low: 0.93, high: 1.08 }),
      handMadeEffect(speed, { estimate: -0.051, low: -0.126, high: 0.024 }),
      handMadeEffect(edge, { estimate: 0.136, low: 0.061, high: 0.211 }),
    ],
  });
  const metric = effectFigure(fit);
  expect(metric.table.columns).toContain("effect on Ra [µm]");
  expect(metric.table.rows[0][3]).toBe(1.01);
  expectSound(metric);
  await expectPicture(metric, "effects-differences");
  const inch = effectFigure(fit, { display: "inch" });
  expectSound(inch);
  expect(inch.table.rows[0][3]).toBeCloseTo(1.01 / 0.0254, 9);
});

test("without an interval the effect is a bare mark; what can't be told is said", async () => {
  const fit = factorialFit({
    t: null,
    effects: [
      handMadeEffect(feed, { estimate: 4.4, reason: "no run is left over" }, "ratio"),
      handMadeEffect(
        speed,
        { estimate: null, reason: "speed moved together with feed in every run" },
        "ratio",
      ),
    ],
  });
  const figure = effectFigure(fit);
  const root = expectSound(figure);
  expect(partOf(root, "intervals").length).toBe(0);
  expect(partOf(root, "estimates").length).toBe(1);
  expect(partOf(root, "untold").length).toBe(1);
  expect(figure.table.rows[1].slice(3, 6)).toEqual([null, null, null]);
  await expectPicture(figure, "effects-without-interval");
});

test("long names and sentences stay on the sheet", () => {
  const long = { ...feed, name: "feed of the roughing insert in the second position of the face mill" };
  const effect = handMadeEffect(long, { estimate: 4.4, low: 4.1, high: 4.7 }, "ratio");
  const fit = factorialFit({
    factors: [long, speed, edge],
    effects: [{ ...effect, sentence: "Raising it does this and that, ".repeat(14) }],
  });
  expectSound(effectFigure(fit));
});

test("a fit without effects is refused", () => {
  expect(() => effectFigure(factorialFit({ effects: [] }))).toThrow(
    "a fit of Ra without effects: expected a model with at least one factor. Add a factor to the model.",
  );
});
