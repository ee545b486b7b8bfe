import { expect, test } from "vitest";
import { halfNormalFigure } from "../../src/figure/index.ts";
import { fitOf, workedExample } from "../reference/worked-example.ts";
import { factorialFit } from "./hand-made-fit.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("one mark an effect; those beyond the drawn limit are named, and the line follows the rest", async () => {
  const example = workedExample("filtration-2x2x2x2");
  const figure = halfNormalFigure(fitOf(example, example.analyses[0]));
  const root = expectSound(figure);
  expect(partOf(root, "effects").length).toBe(15);
  expect(partOf(root, "reference").length).toBe(1);
  expect(partOf(root, "effect-names").length).toBe(5);
  // Montgomery, chapter 6: A, C, D, A × C and A × D stand out.
  expect(figure.description).toContain("A, A × C, A × D, D, C pass the limit for one effect");
  // Half-normal place of the largest of 15: Φ⁻¹(0.5 + 14.5/30) = Φ⁻¹(0.98333) = 2.128 (R: qnorm(0.5 + 14.5/30) = 2.128045).
  expect(figure.table.rows[0].slice(0, 3)).toEqual([
    "A",
    expect.closeTo(21.625, 9),
    expect.closeTo(2.128045, 6),
  ]);
  await expectPicture(figure, "half-normal");
});

test("a fit with error left is refused, with the figure to draw instead", () => {
  expect(() => halfNormalFigure(factorialFit())).toThrow("Draw effectFigure, which has intervals.");
});
