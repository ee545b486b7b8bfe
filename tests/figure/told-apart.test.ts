import { expect, test } from "vitest";
import { effectFigure, responseFigure } from "../../src/figure/index.ts";
import { placedOthers, toldApart } from "../../src/figure/told-apart.ts";
import { fitLinear, type Fit, type Observations } from "../../src/model/index.ts";
import { edge, feed, speed } from "./hand-made-fit.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** Seven feeds at one speed with a used edge, and one last run in which speed and edge changed together; invented. */
function togetherFit(): Fit {
  const feeds = [0.08, 0.1, 0.12, 0.14, 0.17, 0.2, 0.24];
  const values = [0.33, 0.5, 0.53, 0.7, 0.87, 0.99, 1.21, 0.42];
  const rows = values.map((value, index) => ({
    run: index + 1,
    order: index + 1,
    block: 1,
    settings:
      index < 7
        ? { feed: feeds[index], speed: 170, edge: "used" }
        : { feed: 0.12, speed: 240, edge: "fresh" },
    value,
    readings: 1,
    single: [value],
  }));
  const observations: Observations = {
    response: { name: "Ra", unit: "µm" },
    factors: [feed, { ...speed, low: 170, high: 240 }, edge],
    rows,
    repeats: null,
  };
  return fitLinear(observations);
}

test("factors that moved together are not told apart, one that moved by itself is", () => {
  const fit = togetherFit();
  expect(fit.factors.map((factor) => [factor.name, toldApart(fit, factor)])).toEqual([
    ["feed", true],
    ["speed", false],
    ["edge", false],
  ]);
});

test("factors that moved together stand where they were cut most often", () => {
  expect(placedOthers(togetherFit(), {}, ["feed"])).toEqual({ speed: 170, edge: "used" });
  expect(placedOthers(togetherFit(), { speed: 240 }, ["feed"])).toEqual({ speed: 240, edge: "used" });
});

test("no curve is drawn apart for a factor that can't be told, and the one curve keeps its band", async () => {
  const figure = responseFigure(togetherFit());
  const root = expectSound(figure);
  expect(partOf(root, "curve").length).toBe(1);
  expect(partOf(root, "band-mean").length).toBe(1);
  expect(figure.description).toContain("The fit at speed 170 m/min, edge used gives");
  await expectPicture(figure, "response-moved-together");
});

test("an effect that may be another's is amber and open, with the sentence that says so", async () => {
  const figure = effectFigure(togetherFit());
  const root = expectSound(figure);
  const marks = partOf(root, "estimates").map((mark) => [mark.attributes["fill"], mark.attributes["stroke"]]);
  expect(marks).toEqual([
    ["#1c4d94", "#ffffff"],
    ["#ffffff", "#a85800"],
  ]);
  expect(partOf(root, "untold").length).toBe(1);
  expect(figure.description).toContain("This may as well be due to edge");
  await expectPicture(figure, "effects-moved-together");
});
