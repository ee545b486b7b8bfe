import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  fCdf,
  fTail,
  integrate,
  nonCentralFCdf,
  nonCentralFTail,
  nonCentralTCdf,
  nonCentralTQuantile,
  nonCentralTTail,
  normalDensity,
  tCdf,
  toleranceFactor,
  tQuantile,
  tTail,
} from "../../src/numerics/index.ts";
import { digits } from "./digits.ts";

type Rows = readonly (readonly number[])[];
const read = (name: string): Record<string, Rows> =>
  JSON.parse(readFileSync(new URL(`../fixtures/numerics/${name}`, import.meta.url), "utf8")) as Record<
    string,
    Rows
  >;
const precise = read("distribution-values.json");
const fromR = read("values-from-r.json");
const seed = { seed: 20261125, numRuns: 60 };

describe("noncentral t and F against 30-digit integrals and sums", () => {
  test.each(precise.noncentralT)("t at %d with %d df, noncentrality %d", (t, df, shift, cdf, tail) => {
    expect(digits(nonCentralTCdf(t, df, shift), cdf)).toBeGreaterThan(12);
    expect(digits(nonCentralTTail(t, df, shift), tail)).toBeGreaterThan(12);
  });

  test.each(precise.noncentralF)(
    "F at %d with %d and %d df, noncentrality %d",
    (f, df1, df2, shift, cdf, tail) => {
      expect(digits(nonCentralFCdf(f, df1, df2, shift), cdf)).toBeGreaterThan(11.5);
      expect(digits(nonCentralFTail(f, df1, df2, shift), tail)).toBeGreaterThan(11.5);
    },
  );
});

describe("noncentral t and F against R, whose series stop at an absolute error", () => {
  test("power of the two-sample t test, both tails counted", () => {
    for (const [n, delta, level, power] of fromR.power) {
      const df = 2 * n - 2;
      const critical = tQuantile(1 - level / 2, df);
      const shift = delta * Math.sqrt(n / 2);
      const ours = nonCentralTTail(critical, df, shift) + nonCentralTCdf(-critical, df, shift);
      expect(Math.abs(ours - power)).toBeLessThan(5e-11);
    }
  });

  test("pt and pf", () => {
    for (const [t, df, shift, cdf] of fromR.t)
      expect(Math.abs(nonCentralTCdf(t, df, shift) - cdf)).toBeLessThan(2e-11);
    for (const [f, df1, df2, shift, cdf] of fromR.f)
      // pf sums until what is left is below 1e-9.
      expect(Math.abs(nonCentralFCdf(f, df1, df2, shift) - cdf)).toBeLessThan(1e-9);
  });
});

describe("noncentral t", () => {
  test("published: 8 and 20 a group at δ = σ have power 0.461176 and 0.868953, upper tail", () => {
    expect(nonCentralTTail(tQuantile(0.975, 14), 14, 2)).toBeCloseTo(0.461176, 6);
    expect(nonCentralTTail(tQuantile(0.975, 38), 38, Math.sqrt(10))).toBeCloseTo(0.868953, 6);
  });

  test("without noncentrality it is Student's t, in both tails", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -30, max: 30, noNaN: true }),
        fc.double({ min: 0.3, max: 400, noNaN: true }),
        (t, df) => {
          expect(digits(nonCentralTCdf(t, df, 0), tCdf(t, df))).toBeGreaterThan(11.5);
          expect(digits(nonCentralTTail(t, df, 0), tTail(t, df))).toBeGreaterThan(11.5);
        },
      ),
      seed,
    );
  });

  test("both tails add up to 1, and mirror each other", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -20, max: 60, noNaN: true }),
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        fc.double({ min: -30, max: 30, noNaN: true }),
        (t, df, shift) => {
          const cdf = nonCentralTCdf(t, df, shift);
          expect(cdf + nonCentralTTail(t, df, shift)).toBeCloseTo(1, 12);
          expect(digits(nonCentralTTail(-t, df, -shift), cdf)).toBeGreaterThan(12);
        },
      ),
      seed,
    );
  });

  test("a second road: the mean of Student's cdf shifted by a normal variable (one degree of freedom)", () => {
    // With one degree of freedom s = |Z₂|, so P(T ≤ t) = E Φ(t·|Z₂| − shift), over Z₂ by adaptive quadrature.
    for (const [t, shift] of [
      [1, 0.5],
      [-2, 1],
      [6, 2],
    ]) {
      const inner = (z: number) => nonCentralTCdf(t * z, Infinity, shift) * 2 * normalDensity(z);
      expect(digits(nonCentralTCdf(t, 1, shift), integrate(inner, 0, 12).value)).toBeGreaterThan(10);
    }
  });

  test("the quantile turns back into its probability", () => {
    for (const [p, df, shift] of [
      [0.95, 9, 5.2],
      [0.01, 4, 1],
      [0.5, 30, -3],
      [1 - 1e-9, 12, 2],
      [1e-12, 12, 2],
    ])
      expect(digits(nonCentralTCdf(nonCentralTQuantile(p, df, shift), df, shift), p)).toBeGreaterThan(10.5);
  });
});

describe("noncentral F", () => {
  test("without noncentrality it is F", () => {
    expect(digits(nonCentralFCdf(2.5, 3, 12, 0), fCdf(2.5, 3, 12))).toBeGreaterThan(15);
    expect(digits(nonCentralFTail(2.5, 3, 12, 0), fTail(2.5, 3, 12))).toBeGreaterThan(15);
  });

  test("with one degree of freedom above it is the square of noncentral t", () => {
    const [t, df, shift] = [2.3, 17, 1.4];
    const both = nonCentralTTail(t, df, shift) + nonCentralTCdf(-t, df, shift);
    expect(digits(nonCentralFTail(t * t, 1, df, shift * shift), both)).toBeGreaterThan(12);
  });

  test("a large noncentrality keeps its digits: both tails add up to 1", () => {
    expect(nonCentralFCdf(2600, 4, 60, 10000) + nonCentralFTail(2600, 4, 60, 10000)).toBeCloseTo(1, 11);
  });
});

describe("tolerance factors", () => {
  // ISO 16269-6, as recomputed with R's qt(ncp).
  test.each([
    [10, 0.95, 0.95, 2.91096],
    [20, 0.9, 0.95, 1.92599],
    [5, 0.99, 0.95, 5.74108],
  ])("n %d, coverage %d, confidence %d: k %d", (n, coverage, confidence, k) => {
    expect(toleranceFactor(n, coverage, confidence)).toBeCloseTo(k, 5);
  });

  test("more parts bring k down to the normal quantile", () => {
    expect(toleranceFactor(1e6, 0.95, 0.95)).toBeGreaterThan(1.6449);
    expect(toleranceFactor(1e6, 0.95, 0.95)).toBeLessThan(1.649);
  });

  test("one part has no scatter to go by", () => {
    expect(() => toleranceFactor(1, 0.9, 0.95)).toThrow(
      "0 degrees of freedom; expected more than 0. Cut at least one replicate.",
    );
  });
});
