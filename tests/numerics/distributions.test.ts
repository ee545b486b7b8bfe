import { readFileSync } from "node:fs";
import stdlibBetaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import stdlibChiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import stdlibFQuantile from "@stdlib/stats-base-dists-f-quantile";
import stdlibNormalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import stdlibTQuantile from "@stdlib/stats-base-dists-t-quantile";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  betaCdf,
  betaQuantile,
  betaTail,
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareTail,
  chiSquareUpperQuantile,
  fCdf,
  fQuantile,
  fTail,
  fUpperQuantile,
  normalCdf,
  normalQuantile,
  normalTail,
  normalUpperQuantile,
  tCdf,
  tQuantile,
  tTail,
  tTwoSided,
  tUpperQuantile,
} from "../../src/numerics/index.ts";
import { digits } from "./digits.ts";

type Rows = readonly (readonly number[])[];
const values = JSON.parse(
  readFileSync(new URL("../fixtures/numerics/distribution-values.json", import.meta.url), "utf8"),
) as Record<"normalTail" | "tTail" | "f" | "chiSquare" | "beta", Rows>;

describe("tails against 50-digit values", () => {
  test.each(values.normalTail)("normal beyond %d", (z, tail) => {
    expect(digits(normalTail(z), tail)).toBeGreaterThan(14.8);
    expect(normalCdf(-z)).toBe(normalTail(z));
  });

  // 13 digits: the prefactor of an incomplete beta or gamma function of many degrees of freedom is a large power, whose exponent's rounding shows.
  test.each(values.tTail)("t beyond %d with %d df", (t, df, tail) => {
    expect(digits(tTail(t, df), tail)).toBeGreaterThan(12.9);
    expect(tTwoSided(-t, df)).toBe(2 * tTail(t, df));
    expect(tCdf(-t, df)).toBe(tTail(t, df));
  });

  test.each(values.f)("F beyond %d with %d and %d df", (f, df1, df2, tail, cdf) => {
    expect(digits(fTail(f, df1, df2), tail)).toBeGreaterThan(12.9);
    expect(digits(fCdf(f, df1, df2), cdf)).toBeGreaterThan(12.9);
  });

  test.each(values.chiSquare)("χ² beyond %d with %d df", (x, df, tail, cdf) => {
    expect(digits(chiSquareTail(x, df), tail)).toBeGreaterThan(12.9);
    expect(digits(chiSquareCdf(x, df), cdf)).toBeGreaterThan(12.9);
  });

  test.each(values.beta)("beta at %d with shapes %d and %d", (x, a, b, cdf, tail) => {
    expect(digits(betaCdf(x, a, b), cdf)).toBeGreaterThan(12.9);
    expect(digits(betaTail(x, a, b), tail)).toBeGreaterThan(12.9);
  });
});

describe("published quantiles, to half a unit of their last digit", () => {
  // Student's table, as in any textbook; recomputed with R's qt.
  test.each([
    [1, 12.7062, 4],
    [3, 3.18245, 5],
    [5, 2.57058, 5],
    [10, 2.22814, 5],
    [30, 2.04227, 5],
  ])("t(0.975) with %d df is %d", (df, wanted, places) => {
    expect(tQuantile(0.975, df)).toBeCloseTo(wanted, places);
  });

  test("F(0.95) with (1, 16) is 4.49400, with (3, 12) 3.49029; χ²(0.95) with 3 is 7.81473; z(0.975) is 1.95996", () => {
    expect(fQuantile(0.95, 1, 16)).toBeCloseTo(4.494, 5);
    expect(fQuantile(0.95, 3, 12)).toBeCloseTo(3.49029, 5);
    expect(chiSquareQuantile(0.95, 3)).toBeCloseTo(7.81473, 5);
    expect(normalQuantile(0.975)).toBeCloseTo(1.95996, 5);
  });

  test("many degrees of freedom end in the normal and in χ²", () => {
    expect(tQuantile(0.975, Infinity)).toBe(normalQuantile(0.975));
    expect(digits(tQuantile(0.975, 1e12), normalQuantile(0.975))).toBeGreaterThan(11.5);
    expect(fTail(2.5, 4, Infinity)).toBe(chiSquareTail(10, 4));
    expect(fQuantile(0.95, 4, Infinity)).toBe(chiSquareUpperQuantile(1 - 0.95, 4) / 4);
  });
});

describe("quantiles turn back into their probability", () => {
  const seed = { seed: 20261125, numRuns: 400 };
  const tail = fc.double({ min: -300, max: Math.log10(0.5), noNaN: true }).map((power) => 10 ** power);
  const df = fc.double({ min: -1, max: 5, noNaN: true }).map((power) => 10 ** power);
  // A probability moves by x·density/probability times the rounding of x: that factor is about ln(1/tail)·2, at most 1400 for 1e-300, and df at most where
  // the tail is a power.
  const wanted = 12;

  test("tails down to 1e-300", () => {
    fc.assert(
      fc.property(tail, df, df, (q, df1, df2) => {
        expect(digits(normalTail(normalUpperQuantile(q)), q)).toBeGreaterThan(wanted);
        const t = tUpperQuantile(q, df1);
        if (Number.isFinite(t) && t < 1e300) expect(digits(tTail(t, df1), q)).toBeGreaterThan(wanted - 0.5);
        expect(digits(chiSquareTail(chiSquareUpperQuantile(q, df1), df1), q)).toBeGreaterThan(wanted - 0.5);
        const f = fUpperQuantile(q, df1, df2);
        if (Number.isFinite(f) && f < 1e300)
          expect(digits(fTail(f, df1, df2), q)).toBeGreaterThan(wanted - 1);
      }),
      seed,
    );
  });

  test("lower tails", () => {
    fc.assert(
      fc.property(tail, df, df, (q, df1, df2) => {
        const x = chiSquareQuantile(q, df1);
        if (x > 1e-300) expect(digits(chiSquareCdf(x, df1), q)).toBeGreaterThan(wanted - 0.5);
        const f = fQuantile(q, df1, df2);
        if (f > 1e-300) expect(digits(fCdf(f, df1, df2), q)).toBeGreaterThan(wanted - 1);
        const b = betaQuantile(q, df1, df2);
        if (b > 1e-300 && b < 0.99) expect(digits(betaCdf(b, df1, df2), q)).toBeGreaterThan(wanted - 1);
      }),
      seed,
    );
  });

  test("the middle of t is exact too, and symmetric", () => {
    expect(tQuantile(0.5, 7)).toBe(0);
    expect(digits(tTail(tUpperQuantile(0.5 - 2 ** -40, 7), 7), 0.5 - 2 ** -40)).toBeGreaterThan(15);
    fc.assert(
      fc.property(tail, df, (q, df1) => {
        expect(tQuantile(q, df1) + tUpperQuantile(q, df1)).toBe(0);
      }),
      seed,
    );
  });
});

describe("a second road: @stdlib's own quantiles, where they keep their digits", () => {
  test("t, F, χ², beta and normal agree in the ordinary range", () => {
    for (const p of [0.001, 0.02, 0.3, 0.7, 0.975, 0.999]) {
      expect(digits(normalQuantile(p), stdlibNormalQuantile(p, 0, 1))).toBeGreaterThan(14);
      for (const df of [1, 2.5, 7, 40, 900]) {
        expect(digits(tQuantile(p, df), stdlibTQuantile(p, df))).toBeGreaterThan(11);
        expect(digits(fQuantile(p, 3, df), stdlibFQuantile(p, 3, df))).toBeGreaterThan(11);
        expect(digits(chiSquareQuantile(p, df), stdlibChiSquareQuantile(p, df))).toBeGreaterThan(11);
        expect(digits(betaQuantile(p, 2, df), stdlibBetaQuantile(p, 2, df))).toBeGreaterThan(11);
      }
    }
  });
});

describe("refusals", () => {
  test.each([
    ["probability is 1; expected a number between 0 and 1, both excluded.", () => tQuantile(1, 3)],
    ["tail is NaN; expected a number between 0 and 1, both excluded.", () => fUpperQuantile(NaN, 1, 2)],
    ["df is 0; expected a number above 0.", () => tTail(1, 0)],
    ["t is NaN; expected a number.", () => tTwoSided(NaN, 3)],
    ["df1 is Infinity; expected a finite number.", () => fTail(1, Infinity, 3)],
  ])("%s", (message, act) => {
    expect(act).toThrow(message);
  });
});
