import { expect, test } from "vitest";
import { fitLinear, intercept, observeTable } from "../../../src/model/index.ts";
import {
  assuranceAt,
  boundMultiple,
  isQuickExact,
  multipleSlack,
  quickMultiple,
} from "../../../src/model/recipe/bound-multiple.ts";
import { tQuantile } from "../../../src/numerics/index.ts";

const share = { for: "share", share: 0.95, parts: 1, assurance: 0.95 } as const;

// One-sided tolerance factors: ISO 16269-6, Table D.4; Odeh and Owen 1980. Printed to five decimals there and recomputed here by R's qt with its ncp.
test.each([
  { n: 5, share: 0.95, assurance: 0.95, k: 4.20268 },
  { n: 10, share: 0.95, assurance: 0.95, k: 2.91096 },
  { n: 20, share: 0.95, assurance: 0.95, k: 2.396 },
  { n: 10, share: 0.99, assurance: 0.95, k: 3.98112 },
  { n: 10, share: 0.9, assurance: 0.95, k: 2.35464 },
])("a model of one mean has the published tolerance factor of $n values ($share, $assurance)", (given) => {
  const values = Array.from({ length: given.n }, (_, i) => 1 + ((i * 7) % given.n) / 10);
  const fit = fitLinear(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "", values: values.map((_, i) => i) },
          { name: "Ra", unit: "", values },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
    { terms: [intercept()] },
  );
  const evaluator = fit.evaluator!();
  const out = new Float64Array(2);
  evaluator.evaluate(evaluator.centre(), out);
  expect(out[1]).toBeCloseTo(1 / given.n, 12);
  const k = boundMultiple({ ...share, share: given.share, assurance: given.assurance }, out[1], evaluator.df);
  expect(Math.abs(k - given.k)).toBeLessThan(6e-6);
});

test("a mean's bound is Student's t, one further part's adds its own scatter, several parts share the estimate", () => {
  const t = tQuantile(0.95, 12);
  expect(boundMultiple({ ...share, for: "mean" }, 0.25, 12)).toBeCloseTo(t / 2, 12);
  expect(boundMultiple({ ...share, for: "next" }, 0.25, 12)).toBeCloseTo(t * Math.sqrt(1.25), 12);
  const five = boundMultiple({ ...share, for: "next", parts: 5 }, 0.25, 12);
  // Between one part and five whose risks are added up.
  expect(five).toBeGreaterThan(t * Math.sqrt(1.25));
  expect(five).toBeLessThan(tQuantile(0.99, 12) * Math.sqrt(1.25));
});

test.each(["mean", "share", "next"] as const)(
  "assurance at the bound of the %s is the one asked for",
  (whom) => {
    const promise = { ...share, for: whom, parts: 3 } as const;
    for (const leverage of [0.05, 0.3, 0.9])
      for (const df of [3, 14])
        expect(assuranceAt(promise, boundMultiple(promise, leverage, df), leverage, df)).toBeCloseTo(0.95, 9);
  },
);

test.each([
  ["the mean", { ...share, for: "mean" }],
  ["a share of parts", share],
  ["the next part", { ...share, for: "next" }],
  ["each of the next 6 parts", { ...share, for: "next", parts: 6 }],
] as const)(
  "cubics between a few places stand for the bound of %s as closely as a search takes for granted",
  (_, promise) => {
    for (const varies of [false, true]) {
      const quick = quickMultiple(promise, varies);
      for (const df of varies ? [3.7] : [2, 20]) {
        for (let leverage = 0.02; leverage < 1.5; leverage *= 3.3) {
          const exact = boundMultiple(promise, leverage, df);
          const allowed = isQuickExact(promise, varies) ? 1e-12 : multipleSlack;
          expect(Math.abs(quick(leverage, df) - exact)).toBeLessThan(allowed * exact);
        }
      }
    }
  },
);
