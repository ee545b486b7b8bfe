import { expect, test } from "vitest";
import { knownSliceFigure } from "../../src/figure/index.ts";
import { tQuantile } from "../../src/numerics/index.ts";
import { depthFactor, edgeFactor, feedFactor, plan, speedFactor } from "./hand-made-plan.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const logFeed = { ...feedFactor, scale: "log" as const };

test("bands of half-width are drawn over two quantities, with what is held said", async () => {
  const factors = [
    { ...logFeed, levels: [0.08, 0.14, 0.24] },
    { ...speedFactor, levels: [150, 220, 300] },
    edgeFactor,
  ];
  const runs = plan(factors, {});
  const figure = knownSliceFigure(
    { runs, factors },
    { model: "surface", sigma: 0.05, unit: "µm", at: { edge: "used" }, wanted: 0.07 },
  );
  const root = expectSound(figure);
  expect(partOf(root, "bands").length).toBeGreaterThan(1);
  expect(partOf(root, "wanted").length).toBe(1);
  expect(partOf(root, "runs").length).toBe(18);
  expect(figure.svg).toContain("held: edge used");
  expect(figure.description).toMatch(/% of the slice keeps ± 0\.070 µm\.$/u);
  expect(figure.table.columns).toEqual(["feed [mm/rev]", "speed [m/min]", "half-width of the mean [µm]"]);
  expect(figure.table.rows).toHaveLength(25);
  await expectPicture(figure, "known-slice");
});

test("the table holds the half-widths that main effects at right angles have", () => {
  const factors = [feedFactor, speedFactor, depthFactor];
  const runs = plan(factors, { replicates: 1 });
  const figure = knownSliceFigure({ runs, factors }, { up: "depth" });
  expectSound(figure);
  const t = tQuantile(0.975, 8 - 4);
  // Variance (1 + a² + b²)/8 with the held factor in its middle; four figures are kept.
  expect(figure.table.rows[0]).toEqual([0.08, 0.1, Number((t * Math.sqrt(3 / 8)).toPrecision(4))]);
  expect(figure.table.rows[12]).toEqual([0.16, 0.2, Number((t * Math.sqrt(1 / 8)).toPrecision(4))]);
  expect(figure.description).toContain(", at speed 225 m/min.");
});

test("a slice that is known alike all over has no bands", () => {
  const factors = [feedFactor, speedFactor];
  const runs = plan(factors, { replicates: 2 });
  const figure = knownSliceFigure({ runs, factors }, { terms: [{}] });
  expect(partOf(expectSound(figure), "bands")).toHaveLength(0);
});

test("one quantity, named levels and an unknown factor are refused in words", () => {
  const factors = [feedFactor, edgeFactor];
  const runs = plan(factors, { replicates: 2 });
  expect(() => knownSliceFigure({ runs, factors })).toThrow(
    "one quantity to draw over: expected two different quantities.",
  );
  expect(() => knownSliceFigure({ runs, factors }, { up: "edge" })).toThrow(
    "edge, which has named levels: expected a quantity along and up the frame.",
  );
  expect(() => knownSliceFigure({ runs, factors }, { along: "depth" })).toThrow(
    'factor "depth": expected one of',
  );
  const two = [feedFactor, speedFactor];
  expect(() => knownSliceFigure({ runs: plan(two, {}), factors: two }, { at: { edge: "used" } })).toThrow(
    'factor "edge": expected one of feed, speed',
  );
});
