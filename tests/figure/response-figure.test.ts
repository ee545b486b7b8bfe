import { expect, test } from "vitest";
import { responseFigure } from "../../src/figure/index.ts";
import { factorialFit, factorialRuns, feed, handMadeFit, sweepFit, sweepRuns } from "./hand-made-fit.ts";
import { elementsOf, partOf, textBoxes, type SvgNode } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** From places along a line to the drawing's units and back, by two ticks whose texts are known. */
function upFrom(root: SvgNode, low: string, high: string): (value: number) => number {
  const boxes = textBoxes(root);
  const heightOf = (text: string): number => {
    const box = boxes.find((each) => each.text === text && each.right < 60)!;
    return (box.top + box.bottom) / 2 - 0.06 * 12; // the middle of figures, as the ticks are set
  };
  const perUnit = (heightOf(high) - heightOf(low)) / (Number(high) - Number(low));
  return (value) => heightOf(low) + (value - Number(low)) * perUnit;
}

function pointsOf(path: SvgNode): readonly { x: number; y: number }[] {
  return [...path.attributes["d"].matchAll(/(-?[\d.]+),(-?[\d.]+)/gu)].map((each) => ({
    x: Number(each[1]),
    y: Number(each[2]),
  }));
}

test("a sweep shows every reading, every run mean, fit, bands, limit and ideal finish", async () => {
  const figure = responseFigure(sweepFit(), { limit: 0.8, noseRadiusMm: 0.8 });
  const root = expectSound(figure);
  expect(partOf(root, "readings").length).toBe(30);
  expect(partOf(root, "run-means").length).toBe(10);
  expect(partOf(root, "curve").length).toBe(1);
  expect(partOf(root, "band-mean").length).toBe(1);
  expect(partOf(root, "band-single").length).toBe(1);
  expect(partOf(root, "limit").length).toBe(1);
  expect(partOf(root, "ideal").length).toBe(1);
  expect(figure.description).toContain("The limit is 0.8 µm; 18 of 30 readings lie above it.");
  await expectPicture(figure, "response-sweep");
});

test("curve and bands pass through the prediction's own numbers at both ends", () => {
  const fit = sweepFit();
  const root = expectSound(responseFigure(fit));
  const y = upFrom(root, "0.5", "2.0");
  const curve = pointsOf(partOf(root, "curve")[0]);
  const mean = pointsOf(partOf(root, "band-mean")[0]);
  const single = pointsOf(partOf(root, "band-single")[0]);
  const at = (feedMm: number) => fit.predict({ feed: feedMm });
  // Half a unit of the drawing: its numbers have two decimals, the ticks' middle is known to a tenth.
  const near = (drawn: number, value: number): void => expect(Math.abs(drawn - y(value))).toBeLessThan(0.5);
  near(curve[0].y, at(0.08).estimate);
  near(curve.at(-1)!.y, at(0.24).estimate);
  near(mean[0].y, at(0.08).mean!.high);
  near(mean.at(-1)!.y, at(0.08).mean!.low);
  near(mean[60].y, at(0.24).mean!.high);
  near(single[60].y, at(0.24).single!.high);
  expect(curve.length).toBe(61);
});

test("the fit is drawn over the settings that were cut and no further", () => {
  const root = expectSound(responseFigure(sweepFit()));
  const curve = pointsOf(partOf(root, "curve")[0]);
  const readings = partOf(root, "readings").map((each) => Number(each.attributes["cx"]));
  // Two runs at each end stand 6 units to either side of their setting, readings 4 right of that.
  expect(curve[0].x).toBeCloseTo(Math.min(...readings) + 2, 1);
  expect(curve.at(-1)!.x).toBeCloseTo(Math.max(...readings) - 10, 1);
});

test("a power law gets scales of ratios and one curve a level of the category", async () => {
  const figure = responseFigure(factorialFit(), { at: { speed: 150 }, readings: "as-read", limit: 0.8 });
  const root = expectSound(figure);
  expect(partOf(root, "curve").length).toBe(2);
  expect(partOf(root, "readings").length).toBe(32);
  const dashes = elementsOf(root)
    .filter((each) => each.attributes["data-part"] === "curve")
    .map((each) => each.attributes["stroke-dasharray"]);
  expect(new Set(dashes).size).toBe(2); // told apart in grey
  const curve = pointsOf(partOf(root, "curve")[0]);
  const middle = curve[30];
  // A power law is straight on scales of ratios.
  expect(middle.y).toBeCloseTo((curve[0].y + curve.at(-1)!.y) / 2, 1);
  expect(figure.description).toContain("edge used");
  await expectPicture(figure, "response-factorial");
});

test("where other factors were varied readings are adjusted to the curve's settings, and the figure says so", () => {
  const fit = factorialFit();
  const figure = responseFigure(fit, { by: null });
  expectSound(figure);
  expect(figure.description).toContain("Readings are adjusted to the settings of the curve");
  expect(figure.svg).toContain("single reading, adjusted");
  expect(responseFigure(fit, { by: null, readings: "as-read" }).description).not.toContain("adjusted");
  expect(responseFigure(sweepFit()).description).not.toContain("adjusted");
});

test("an adjusted reading keeps its residual: the mean mark stands off the curve by it", () => {
  const fit = factorialFit();
  const root = expectSound(responseFigure(fit, { by: null }));
  const curve = pointsOf(partOf(root, "curve")[0]);
  const means = partOf(root, "run-means").map((mark) => Number(mark.attributes["cy"]));
  const ends = [curve[0].y, curve.at(-1)!.y];
  // Straight on scales of ratios: units of the drawing for one unit of the logarithm, along the curve's own rise.
  const rise = Math.log(fit.predict({ feed: 0.24 }).estimate / fit.predict({ feed: 0.08 }).estimate);
  const perLog = (ends[1] - ends[0]) / rise;
  fit.rows.forEach((row, index) => {
    const end = row.settings["feed"] === 0.08 ? ends[0] : ends[1];
    expect(means[index]).toBeCloseTo(end + perLog * row.residual, 1);
  });
});

test("a category alone gets a bar and an estimate a level", async () => {
  const figure = responseFigure(factorialFit(), {
    factor: "edge",
    by: null,
    readings: "adjusted",
    limit: 0.8,
  });
  const root = expectSound(figure);
  expect(partOf(root, "band-mean").length).toBe(2);
  expect(partOf(root, "estimates").length).toBe(2);
  expect(partOf(root, "curve").length).toBe(0);
  await expectPicture(figure, "response-category");
});

test("groups of a category along are named in the key, each with its own mark", async () => {
  const figure = responseFigure(factorialFit(), { factor: "edge", by: "speed" });
  const root = expectSound(figure);
  const texts = textBoxes(root).map((box) => box.text);
  expect(texts).toEqual(expect.arrayContaining(["speed 150 m/min", "speed 300 m/min"]));
  await expectPicture(figure, "response-category-by");
});

test("inch display shows inch first and metric as the second scale", async () => {
  const figure = responseFigure(sweepFit(), { display: "inch", limit: 0.8 });
  const root = expectSound(figure);
  const texts = textBoxes(root).map((box) => box.text);
  expect(texts).toContain("Ra, µin");
  expect(texts).toContain("µm");
  expect(texts).toContain("limit 31.5 µin"); // 0.8 µm is 31.496 µin
  expect(figure.table.columns).toContain("feed [in/rev]");
  expect(figure.table.rows[1][1]).toBeCloseTo(0.24 / 25.4, 12);
  await expectPicture(figure, "response-inch");
});

test("without an interval there is a curve, no band, and the reason", () => {
  const figure = responseFigure(sweepFit({ t: null }));
  const root = expectSound(figure);
  expect(partOf(root, "band-mean").length + partOf(root, "band-single").length).toBe(0);
  expect(figure.description).toContain("No interval: every run is used up by the model; cut a replicate.");
});

test("the ideal finish is left out where it means nothing", () => {
  const force = sweepFit({ response: { name: "force", unit: "N" } });
  const root = expectSound(responseFigure(force, { noseRadiusMm: 0.8 }));
  expect(partOf(root, "ideal")).toEqual([]);
});

test("one run, one level and one value alone are drawn", () => {
  const one = handMadeFit({ factors: [feed], runs: sweepRuns.slice(0, 1), columns: () => [1], t: null });
  expect(partOf(expectSound(responseFigure(one)), "readings").length).toBe(3);
  const level = handMadeFit({
    factors: [feed],
    runs: sweepRuns.map(({ single }) => ({ settings: { feed: 0.1 }, single })),
    columns: () => [1],
  });
  expect(partOf(expectSound(responseFigure(level)), "readings").length).toBe(30);
  const same = handMadeFit({
    factors: [feed],
    runs: sweepRuns.map(({ settings }) => ({ settings, single: [0.8] })),
    columns: ({ feed: at }) => [1, Number(at)],
  });
  expect(partOf(expectSound(responseFigure(same, { limit: 0.8 })), "readings").length).toBe(10);
});

test("2,448 readings stay below 300 kB, are thinned by counting, and the text says so", () => {
  const runs = Array.from({ length: 2448 }, (_, index) => ({
    settings: {
      feed: 0.08 + (index % 17) * 0.01,
      speed: 150 + (index % 5) * 30,
      edge: index % 2 === 0 ? "fresh" : "used",
    },
    single: [0.4 + (index % 17) * 0.08 + 0.1 * Math.sin(index * 12.9898)],
  }));
  const fit = factorialFit({ runs, effects: [] });
  const figure = responseFigure(fit, { limit: 0.8 });
  const root = expectSound(figure);
  expect(figure.svg.length).toBeLessThan(300_000);
  expect(partOf(root, "readings").length).toBeLessThan(1100);
  expect(figure.description).toMatch(
    /2448 readings are drawn as \d+ marks at the mean place of their neighbours/u,
  );
});

test("names that look like markup are shown as they are", async () => {
  const name = `<script>alert("1")</script> & 'feed'`;
  const factor = { ...feed, name };
  const fit = handMadeFit({
    response: { name: "Ra</text><b>", unit: "µm" },
    factors: [factor],
    runs: sweepRuns.map(({ settings, single }) => ({ settings: { [name]: settings["feed"] }, single })),
    columns: (at) => [1, Number(at[name])],
  });
  const figure = responseFigure(fit);
  const root = expectSound(figure);
  expect(textBoxes(root).some((box) => box.text.includes("<script>"))).toBe(true);
  expect(figure.svg).not.toMatch(/<script|<b>/u);
});

test("the same input gives the same SVG, and nothing given is changed", () => {
  const fit = sweepFit();
  Object.freeze(fit);
  Object.freeze(fit.rows);
  for (const row of fit.rows) Object.freeze(row);
  const options = Object.freeze({ limit: 0.8, noseRadiusMm: 0.8 });
  expect(responseFigure(fit, options).svg).toBe(responseFigure(fit, options).svg);
  expect(responseFigure(fit).svg).not.toBe(responseFigure(fit, options).svg);
});

test("what can't be drawn is refused by name", () => {
  expect(() => responseFigure(sweepFit(), { factor: "depth" })).toThrow(
    'factor "depth": expected one of the factors of this fit (feed). Name one of these.',
  );
  expect(() => responseFigure(handMadeFit({ factors: [], runs: sweepRuns, columns: () => [1] }))).toThrow(
    "a fit without factors: expected at least one factor to draw along.",
  );
  const broken = factorialFit({
    runs: [...factorialRuns, { settings: factorialRuns[0].settings, single: [Number.NaN] }],
  });
  expect(() => responseFigure(broken)).toThrow("Ra of run 17 is NaN: expected a finite number.");
});
