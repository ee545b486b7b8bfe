import { expect, test } from "vitest";
import { contourFigure } from "../../src/figure/index.ts";
import { jointRecipe, keptRegion } from "../../src/model/index.ts";
import { drawnTrial } from "../model/recipe/several-responses.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const drawn = drawnTrial({ seed: 6, scatter: 0.07 });

test("contours stand over the hatched ground, with three lines for the border", async () => {
  const recipe = jointRecipe(drawn.trial, drawn.fits);
  const figure = contourFigure(drawn.trial, drawn.fits, { mark: recipe.settings });
  const root = expectSound(figure);
  expect(partOf(root, "contours").length).toBeGreaterThan(2);
  for (const part of ["border", "estimate", "broken", "forbidden", "recipe"])
    expect(partOf(root, part).length).toBeGreaterThan(0);
  expect(figure.description).toMatch(/keeps Ra ≤ 0\.800? µm, power ≤ 3\.00 kW/u);
  await expectPicture(figure, "contours");
});

test("the table says of each place what the set of kept settings says of it", () => {
  const figure = contourFigure(drawn.trial, drawn.fits);
  const region = keptRegion(drawn.trial, drawn.fits, { assurance: 0.9 });
  for (const [feed, speed, , limits] of figure.table.rows)
    expect(region.contains({ feed: Number(feed), speed: Number(speed) })).toBe(limits === "kept");
});

test("other factors are held where it is said", () => {
  const { trial, fits } = drawnTrial({ factors: ["feed", "speed", "depth"] });
  const figure = contourFigure(trial, fits, { up: "depth", at: { speed: 800 }, of: "power" });
  expectSound(figure);
  expect(figure.title).toBe("power over feed and depth");
  expect(figure.svg).toContain("held: speed 800 rev/min");
});

test("one quantity, a response without a fit and unknown factors are refused", () => {
  expect(() => contourFigure(drawn.trial, drawn.fits, { of: "Rz" })).toThrow(/fitted response/);
  expect(() => contourFigure(drawn.trial, drawn.fits, { along: "tilt" })).toThrow(/two different quantities/);
  const one = drawnTrial({ factors: ["feed"] });
  expect(() => contourFigure(one.trial, one.fits)).toThrow(/two different quantities/);
});
