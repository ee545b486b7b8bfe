import { expect, test } from "vitest";
import { halfWidthsAt, layOut, termCorrelations } from "../../src/layout/index.ts";
import { tQuantile } from "../../src/numerics/index.ts";
import { coded, coolant } from "./factors.ts";

test("a generated factor moves wholly with its product, and with nothing else", () => {
  const factors = coded(3);
  const { runs } = layOut({ factors, layout: { kind: "fraction", generators: ["C = AB"] } });
  const { terms, correlations } = termCorrelations(runs, factors, {
    model: "main",
    omitted: [
      { A: 1, B: 1 },
      { A: 1, C: 1 },
    ],
  });
  expect(terms).toEqual([
    { label: "A", order: 1, place: "asked" },
    { label: "B", order: 1, place: "asked" },
    { label: "C", order: 1, place: "asked" },
    { label: "A × B", order: 2, place: "omitted" },
    { label: "A × C", order: 2, place: "omitted" },
  ]);
  expect(correlations[3]).toEqual([0, 0, expect.closeTo(1, 12), 1, 0]);
  expect(correlations[4]).toEqual([0, expect.closeTo(1, 12), 0, 0, 1]);
});

test("a term that never moves and two levels of one category have no correlation", () => {
  const factors = [...coded(1), coolant];
  const { runs } = layOut({ factors, layout: { kind: "factorial" } });
  const { terms, correlations } = termCorrelations(runs, factors, { model: "main", omitted: [{ A: 2 }] });
  expect(terms.map(({ place }) => place)).toEqual(["asked", "asked", "asked", "omitted"]);
  expect(correlations[3]?.slice(0, 3)).toEqual([null, null, null]);
  expect(correlations[1]?.[2]).toBeNull();
});

test("half-widths of the mean are t times the square root of the share of the runs", () => {
  const factors = coded(2);
  const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 2 } });
  const t = tQuantile(0.975, 5);
  const [middle, corner] = halfWidthsAt(
    runs,
    factors,
    [
      { A: 0, B: 0 },
      { A: 1, B: -1 },
    ],
    { sigma: 0.5 },
  );
  // Variance (1 + a² + b²)/8 for main effects at right angles.
  expect(middle).toBeCloseTo((t * 0.5) / Math.sqrt(8), 12);
  expect(corner).toBeCloseTo(t * 0.5 * Math.sqrt(3 / 8), 12);
});

test("runs without a degree of freedom left, and a σ that can't be, are refused in words", () => {
  const factors = coded(2);
  const { runs } = layOut({ factors, layout: { kind: "factorial" } });
  expect(() => halfWidthsAt(runs, factors, [{ A: 0, B: 0 }], { model: "interactions" })).toThrow(
    "precision: every run is used up by the terms, so the scatter stays unknown and no interval can be had. Add runs or ask for fewer terms.",
  );
  expect(() => halfWidthsAt(runs, factors, [{ A: 0, B: 0 }], { sigma: 0 })).toThrow(
    "precision: sigma is 0; expected the run-to-run standard deviation, above zero.",
  );
  expect(() => halfWidthsAt(runs, factors, [{ A: 0, B: 0 }], { confidence: 95 })).toThrow(
    "precision: confidence is 95; expected a number between 0 and 1, such as 0.95.",
  );
});
