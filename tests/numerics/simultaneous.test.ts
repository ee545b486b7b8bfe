import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  manyToOneTail,
  manyToOneUpperQuantile,
  normalTail,
  seededRandom,
  studentisedRangeCdf,
  studentisedRangeQuantile,
  studentisedRangeTail,
  studentisedRangeUpperQuantile,
  tTail,
  tTwoSided,
  type ManyToOne,
} from "../../src/numerics/index.ts";
import { digits } from "./digits.ts";

interface Simultaneous {
  readonly range: readonly (readonly [number, number, number, number])[];
  readonly manyToOne: readonly (readonly [
    number,
    number,
    readonly number[],
    "both" | "one",
    number,
    number,
  ])[];
}
interface FromR {
  readonly range: readonly (readonly number[])[];
  readonly rangeQuantile: readonly (readonly number[])[];
}
const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../fixtures/numerics/${name}`, import.meta.url), "utf8"));
const values = read("simultaneous-values.json") as Simultaneous;
const fromR = read("values-from-r.json") as FromR;
const known = (df: number): number => (df === 1e9 ? Infinity : df);

describe("studentised range", () => {
  test("published upper 5 % points: (3, 10) 3.87678, (4, 20) 3.95829", () => {
    expect(studentisedRangeQuantile(0.95, 3, 10)).toBeCloseTo(3.87678, 5);
    expect(studentisedRangeQuantile(0.95, 4, 20)).toBeCloseTo(3.95829, 5);
  });

  // Harter 1960, table of upper 5 % and 1 % points, from memory and recomputed by simultaneous-values.py's road.
  test.each([
    [0.95, 2, 5, 3.635],
    [0.95, 5, 10, 4.654],
    [0.95, 10, 30, 4.824],
    [0.99, 3, 12, 5.046],
    [0.99, 6, 20, 5.51],
  ])("Harter's table: %d, %d means, %d df: %d", (probability, groups, df, q) => {
    expect(studentisedRangeQuantile(probability, groups, df)).toBeCloseTo(q, 2);
  });

  test("agrees with fixed rules of many points", () => {
    for (const [q, groups, df, tail] of values.range) {
      // The reference is right to 1e-12 absolute.
      expect(Math.abs(studentisedRangeTail(q, groups, known(df)) - tail)).toBeLessThan(2e-12);
      expect(Math.abs(studentisedRangeCdf(q, groups, known(df)) - (1 - tail))).toBeLessThan(2e-12);
    }
  });

  test("agrees with R's ptukey and qtukey from 10 df on, as far as those go (qtukey stops at 1e-4)", () => {
    for (const [q, groups, df, cdf] of fromR.range)
      if (df >= 10) expect(Math.abs(studentisedRangeCdf(q, groups, known(df)) - cdf)).toBeLessThan(1e-9);
    for (const [probability, groups, df, q] of fromR.rangeQuantile)
      if (df >= 10)
        expect(Math.abs(studentisedRangeQuantile(probability, groups, df) / q - 1)).toBeLessThan(1e-6);
  });

  test("the range of two is Student's t times √2, into the far tail", () => {
    for (const t of [0.3, 2, 20, 1e3, 1e6])
      for (const df of [1, 7, 60])
        expect(digits(studentisedRangeTail(t * Math.SQRT2, 2, df), tTwoSided(t, df))).toBeGreaterThan(11);
    expect(digits(studentisedRangeTail(50, 2, Infinity), 2 * normalTail(50 / Math.SQRT2))).toBeGreaterThan(
      11,
    );
  });

  test("far out, three means pass as their three pairs do together", () => {
    // At 30 the chance that two of the pairs pass at once is of another order: P(range > w) → 3·P(pair > w).
    expect(digits(studentisedRangeTail(30, 3, Infinity), 6 * normalTail(30 / Math.SQRT2))).toBeGreaterThan(
      10,
    );
  });

  test("quantiles turn back into their tails", () => {
    for (const tail of [1e-12, 0.001, 0.05, 0.4, 0.99])
      for (const [groups, df] of [
        [2, 3],
        [5, 17],
        [30, Infinity],
      ])
        expect(
          digits(studentisedRangeTail(studentisedRangeUpperQuantile(tail, groups, df), groups, df), tail),
        ).toBeGreaterThan(9);
  });

  test("refuses one group, and no degree of freedom", () => {
    expect(() => studentisedRangeTail(3, 1, 10)).toThrow("1 groups; expected a whole number from 2 to 1000.");
    expect(() => studentisedRangeTail(3, 3, 0.5)).toThrow("0.5 degrees of freedom; expected 1 or more.");
  });
});

describe("many to one", () => {
  const equal = (groups: number, sides: ManyToOne["sides"]): ManyToOne => ({
    controlSize: 1,
    sizes: new Array<number>(groups).fill(1),
    sides,
  });

  // Dunnett 1955 (one-sided) and 1964 (two-sided), 5 % points for equal sizes; from memory, recomputed by simultaneous-values.py's road.
  test.each([
    ["both", 2, 10, 2.57],
    ["both", 3, 20, 2.54],
    ["both", 2, 12, 2.5],
    ["one", 2, 10, 2.15],
    ["one", 3, 20, 2.19],
  ] as const)("Dunnett's table: sides %s, %d groups, %d df: %d", (sides, groups, df, t) => {
    expect(Math.abs(manyToOneUpperQuantile(0.05, equal(groups, sides), df) - t)).toBeLessThanOrEqual(0.005);
  });

  test("agrees with fixed rules of many points, equal and unequal sizes", () => {
    for (const [t, controlSize, sizes, sides, df, tail] of values.manyToOne)
      expect(Math.abs(manyToOneTail(t, { controlSize, sizes, sides }, known(df)) - tail)).toBeLessThan(2e-12);
  });

  test("one group is Student's t, in both directions and far out", () => {
    for (const t of [0.5, 4, 30, 1e4])
      for (const df of [2, 9]) {
        expect(
          digits(manyToOneTail(t, { controlSize: 3, sizes: [7], sides: "both" }, df), tTwoSided(t, df)),
        ).toBeGreaterThan(11);
        expect(
          digits(manyToOneTail(-t, { controlSize: 3, sizes: [7], sides: "one" }, df), tTail(-t, df)),
        ).toBeGreaterThan(11);
      }
  });

  test("holds its level when simulated: unequal sizes, 40 000 draws, seed 7", () => {
    const comparison: ManyToOne = { controlSize: 3, sizes: [4, 2, 6], sides: "both" };
    const df = 11;
    const critical = manyToOneUpperQuantile(0.1, comparison, df);
    const random = seededRandom(7);
    let passed = 0;
    for (let draw = 0; draw < 40_000; draw++) {
      let square = 0;
      for (let k = 0; k < df; k++) square += random.normal() ** 2;
      const sd = Math.sqrt(square / df);
      const control = random.normal() / Math.sqrt(3);
      const largest = Math.max(
        ...comparison.sizes.map((size) =>
          Math.abs((random.normal() / Math.sqrt(size) - control) / (sd * Math.sqrt(1 / size + 1 / 3))),
        ),
      );
      if (largest > critical) passed++;
    }
    expect(Math.abs(passed / 40_000 - 0.1)).toBeLessThan(4 * Math.sqrt(0.09 / 40_000));
  });

  test("quantiles turn back into their tails", () => {
    for (const tail of [1e-10, 0.01, 0.05, 0.3])
      for (const sides of ["both", "one"] as const) {
        const comparison = { controlSize: 8, sizes: [3, 5, 8], sides };
        expect(
          digits(manyToOneTail(manyToOneUpperQuantile(tail, comparison, 9), comparison, 9), tail),
        ).toBeGreaterThan(9);
      }
  });

  test("refuses empty groups and no groups", () => {
    expect(() => manyToOneTail(2, { controlSize: 0, sizes: [3], sides: "one" }, 5)).toThrow(
      "a group of size 0; expected a number above 0.",
    );
    expect(() => manyToOneTail(2, { controlSize: 3, sizes: [], sides: "one" }, 5)).toThrow(
      "0 groups beside the control; expected 1 to 100.",
    );
  });
});
