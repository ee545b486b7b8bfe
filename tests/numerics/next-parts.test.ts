import { describe, expect, test } from "vitest";
import {
  manyToOneUpperQuantile,
  nextPartsFactor,
  nextPartsTail,
  normalCdf,
  normalDensity,
  normalUpperQuantile,
  tQuantile,
} from "../../src/numerics/index.ts";
import { digits } from "./digits.ts";

/**
 * A second road: P(all parts below) by Simpson's rule over the estimate's error and over s² = χ²/df (even df, whose density needs no gamma function), nothing shared
 * with the code but the normal distribution. Right to about 1e-8.
 */
function plainTail(k: number, parts: number, leverage: number, df: number): number {
  const root = Math.sqrt(leverage);
  const half = df / 2;
  let factorial = 1;
  for (let i = 2; i < half; i++) factorial *= i;
  const known = (x: number): number =>
    simpson((z) => normalDensity(z) * normalCdf(x + root * z) ** parts, -9, 9, 400);
  // u = √(χ²/df) has density 2·half^half·u^(df − 1)·exp(−half·u²)/Γ(half).
  const kept = simpson(
    (u) => ((2 * half ** half * u ** (df - 1) * Math.exp(-half * u * u)) / factorial) * known(k * u),
    0,
    8,
    800,
  );
  return 1 - kept;
}

function simpson(of: (x: number) => number, from: number, to: number, steps: number): number {
  const step = (to - from) / steps;
  let sum = of(from) + of(to);
  for (let i = 1; i < steps; i++) sum += (i % 2 === 1 ? 4 : 2) * of(from + i * step);
  return (sum * step) / 3;
}

describe("each of the next parts", () => {
  // With as much doubt of the estimate as scatter of a part, distances correlate by one half: Dunnett 1955, table 1a (one-sided, 5 %), two decimals. From memory, and
  // recomputed by `plainTail` below.
  test.each([
    [5, 2, 2.44],
    [5, 5, 2.98],
    [5, 9, 3.3],
    [10, 3, 2.34],
    [10, 9, 2.81],
    [20, 3, 2.19],
    [20, 9, 2.6],
    [Infinity, 2, 1.92],
    [Infinity, 9, 2.42],
  ])("Dunnett's one-sided table: %d df, %d: %d", (df, parts, t) => {
    expect(nextPartsFactor(0.95, { parts, leverage: 1 }, df) / Math.SQRT2).toBeCloseTo(t, 2);
  });

  test.each([
    [4, 2, 0.1],
    [4, 20, 0.3],
    [8, 5, 0.1],
    [10, 9, 1],
    [20, 3, 1],
    [30, 50, 0.05],
  ])(
    "keep the bound as often as plain quadrature says: %d df, %d parts, leverage %d",
    (df, parts, leverage) => {
      for (const assurance of [0.5, 0.95, 0.999]) {
        const k = nextPartsFactor(assurance, { parts, leverage }, df);
        expect(Math.abs(plainTail(k, parts, leverage, df) - (1 - assurance))).toBeLessThan(2e-8);
      }
    },
  );

  test("are groups that share a control: the same as many-to-one with control size 1/leverage", () => {
    for (const [parts, leverage, df] of [
      [2, 0.05, 3],
      [7, 0.4, 11],
      [40, 2, Infinity],
    ] as const)
      for (const tail of [0.3, 0.05, 1e-6])
        expect(
          digits(
            nextPartsFactor(1 - tail, { parts, leverage }, df),
            Math.sqrt(1 + leverage) *
              manyToOneUpperQuantile(
                1 - (1 - tail),
                { controlSize: 1 / leverage, sizes: new Array<number>(parts).fill(1), sides: "one" },
                df,
              ),
          ),
        ).toBeGreaterThan(8.5);
  });

  test("one part is Student's t; a known mean and scatter leave independent parts", () => {
    expect(nextPartsFactor(0.95, { parts: 1, leverage: 0.1 }, 9)).toBeCloseTo(
      tQuantile(0.95, 9) * Math.sqrt(1.1),
      12,
    );
    for (const parts of [2, 30, 100_000]) {
      const known = nextPartsFactor(0.95, { parts, leverage: 0 }, Infinity);
      expect(digits(known, normalUpperQuantile(-Math.expm1(Math.log(0.95) / parts)))).toBeGreaterThan(9);
      // A faint doubt of the mean changes nothing that matters.
      expect(nextPartsFactor(0.95, { parts, leverage: 1e-10 }, Infinity) / known).toBeCloseTo(1, 7);
    }
  });

  test("lie between one part and Bonferroni, which grows ever more too wide with few degrees of freedom", () => {
    for (const df of [0.7, 5])
      for (const parts of [2, 50]) {
        const k = nextPartsFactor(0.95, { parts, leverage: 0.3 }, df) / Math.sqrt(1.3);
        expect(k).toBeGreaterThan(tQuantile(0.95, df));
        expect(k).toBeLessThan(tQuantile(1 - 0.05 / parts, df));
      }
  });

  test("below the estimate too: the bound that all parts keep with 5 % only", () => {
    const next = { parts: 3, leverage: 0.2 };
    expect(nextPartsTail(nextPartsFactor(0.05, next, 6), next, 6)).toBeCloseTo(0.95, 9);
    expect(nextPartsTail(-Infinity, next, 6)).toBe(1);
    expect(nextPartsTail(Infinity, next, 6)).toBe(0);
  });

  test.each([
    [{ parts: 0, leverage: 0.1 }, 5],
    [{ parts: 2.5, leverage: 0.1 }, 5],
    [{ parts: 2, leverage: -0.1 }, 5],
    [{ parts: 2, leverage: NaN }, 5],
    [{ parts: 2, leverage: 0.1 }, 0],
  ])("refuses %j with %d df", (next, df) => {
    expect(() => nextPartsTail(1, next, df)).toThrow(/expected/i);
  });
});
