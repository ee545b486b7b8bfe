import { expect, test } from "vitest";
import { choiceFigure } from "../../src/figure/index.ts";
import {
  chooseLayout,
  type Candidate,
  type GroupFigures,
  type LayoutChoice,
} from "../../src/layout/index.ts";
import { depthFactor, edgeFactor, feedFactor, speedFactor } from "./hand-made-plan.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const factors = [feedFactor, speedFactor, depthFactor, edgeFactor];

function group(told: number, of: number, halfWidth: number | null): GroupFigures {
  const inSigma = halfWidth === null ? null : halfWidth / 0.05;
  return {
    told,
    of,
    halfWidth,
    halfWidthInSigma: inSigma,
    leastHalfWidthInSigma: inSigma,
    seenInSigma: null,
    standardErrorInSigma: null,
    df: 0,
    chance: null,
  };
}

function candidate(id: string, title: string, runs: number, groups: readonly GroupFigures[]): Candidate {
  const [mainEffects, products, squares] = groups;
  if (!mainEffects || !products || !squares) throw new Error("three groups are wanted");
  const [real] = chooseLayout({ factors, stake: "which-matter", passes: 16 }).candidates;
  if (!real) throw new Error("no candidate");
  return { ...real, id, title, runs, figures: { ...real.figures, mainEffects, products, squares } };
}

/** By hand, so that the picture stays when the choosing learns. */
function choiceOf(candidates: readonly Candidate[]): LayoutChoice {
  const real = chooseLayout({ factors, stake: "which-matter", passes: 20, unit: "µm" });
  return { ...real, candidates, recommended: { id: "full", reason: "It fits." } };
}

const full = candidate("full", "full factorial in 16 runs, with 4 centre runs", 20, [
  group(4, 4, 0.057),
  group(6, 6, 0.058),
  group(0, 3, null),
]);
const half = candidate("half", "half fraction in 8 runs", 8, [
  group(4, 4, 0.12),
  group(0, 6, null),
  group(0, 3, null),
]);

test("each layout has a mark for what it tells, and what it can't tell is named", async () => {
  const figure = choiceFigure(choiceOf([full, half]));
  const root = expectSound(figure);
  expect(partOf(root, "widths")).toHaveLength(3);
  expect(figure.description).toBe(
    "Layouts for 20 passes. full factorial in 16 runs, with 4 centre runs (recommended), 20 passes: single factors to within ± 0.057 µm, pairs of factors to within ± 0.058 µm, curvature not told. half fraction in 8 runs, 8 passes: single factors to within ± 0.12 µm, pairs of factors not told, curvature not told.",
  );
  expect(figure.table.rows[1]).toEqual(["half fraction in 8 runs", 8, 0.12, null, null]);
  await expectPicture(figure, "layouts-side-by-side");
});

test("a layout that hardly tells its pairs turns the scale into one of ratios", () => {
  const poor = candidate("poor", "too few runs", 14, [
    group(4, 4, 0.06),
    group(6, 6, 0.9),
    group(0, 3, null),
  ]);
  const figure = choiceFigure(choiceOf([full, poor]));
  expectSound(figure);
  expect(figure.table.rows[1]).toEqual(["too few runs", 14, 0.06, 0.9, null]);
});

test("layouts without any interval are drawn without marks, and those beyond the most are counted", () => {
  const bare = candidate("bare", "no error left", 5, [
    group(4, 4, null),
    group(0, 6, null),
    group(0, 3, null),
  ]);
  expect(partOf(expectSound(choiceFigure(choiceOf([bare]))), "widths")).toHaveLength(0);
  expect(choiceFigure(choiceOf([full, half, bare]), { most: 1 }).svg).toContain("2 more not drawn");
});

test("real choices for one to twelve factors are drawn soundly; an empty one is refused", () => {
  for (const count of [1, 2, 6, 12]) {
    const many = Array.from({ length: count }, (_, index) => ({ ...feedFactor, name: `f${index + 1}` }));
    const choice = chooseLayout({ factors: many, stake: "which-matter", passes: 24 });
    expectSound(choiceFigure(choice));
  }
  expect(() => choiceFigure(choiceOf([]))).toThrow(
    "a choice without a layout: expected at least one layout that fits the passes. Ask for less, or take more passes.",
  );
});
