import { expect, test } from "vitest";
import { shareKnownFigure } from "../../src/figure/index.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** 1000 half-widths whose share below w is ((w − from)/(to − from))². */
function widths(from: number, to: number): readonly number[] {
  return Array.from({ length: 1000 }, (_, index) => from + (to - from) * Math.sqrt((index + 1) / 1000));
}

test("the half-width that 80 % of the region keeps is marked and told for each layout", async () => {
  const figure = shareKnownFigure(
    [
      { label: "20 runs, with axial runs", halfWidths: widths(0.04, 0.08) },
      { label: "16 runs at the corners", halfWidths: widths(0.06, 0.12) },
    ],
    { unit: "µm" },
  );
  const root = expectSound(figure);
  // 0.04 + 0.04 × √0.8 = 0.0758 and 0.06 + 0.06 × √0.8 = 0.1137: half as wide again.
  expect(figure.description).toContain(
    "20 runs, with axial runs: 80 % of the region is known to within ± 0.076 µm, half of it to ± 0.068 µm, the worst place looked at to ± 0.080 µm.",
  );
  expect(figure.description).toContain(
    "At 80 % of the region 20 runs, with axial runs knows most; 16 runs at the corners is 50 % wider.",
  );
  expect(partOf(root, "shares")).toHaveLength(2);
  expect(figure.table.columns).toEqual(["layout", "share of the region", "half-width of the mean [µm]"]);
  expect(figure.table.rows).toHaveLength(100);
  await expectPicture(figure, "share-known");
});

test("one layout in multiples of an unknown σ needs no label", () => {
  const figure = shareKnownFigure([{ label: "", halfWidths: [0.9, 0.5, 0.7] }], { unit: "σ", wanted: 0.5 });
  expectSound(figure);
  expect(figure.description).toBe(
    "How well the region is known. 50 % of the region is known to within ± 0.70 σ, half of it to ± 0.70 σ, the worst place looked at to ± 0.90 σ.",
  );
});

test("no layout, a half-width that is none and a share that is none are refused in words", () => {
  expect(() => shareKnownFigure([], { unit: "µm" })).toThrow(
    "0 layouts with no half-widths: expected one to 4 layouts, each with at least one half-width.",
  );
  expect(() => shareKnownFigure([{ label: "", halfWidths: [0] }], { unit: "µm" })).toThrow(
    "a half-width of 0: expected half-widths above zero.",
  );
  expect(() => shareKnownFigure([{ label: "", halfWidths: [NaN] }], { unit: "µm" })).toThrow(
    "a half-width is NaN",
  );
  expect(() => shareKnownFigure([{ label: "", halfWidths: [1] }], { unit: "µm", wanted: 80 })).toThrow(
    "a wanted share of 80: expected a share between 0 and 1. Give it as a fraction, 0.8 for 80 %.",
  );
});
