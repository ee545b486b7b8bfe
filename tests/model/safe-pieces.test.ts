import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { safePieces } from "../../src/model/safe-pieces.ts";

describe("safePieces", () => {
  test("finds the end of a rising bound to the last digits, on the safe side", () => {
    const [piece] = safePieces((x) => x * x - 2, 0, 3);
    expect(piece.low).toBe(0);
    expect(piece.high).toBeCloseTo(Math.SQRT2, 15);
    expect(piece.high * piece.high).toBeLessThanOrEqual(2);
  });

  test("finds every stretch of a bound that turns", () => {
    const pieces = safePieces((x) => Math.sin(x), 0.5, 12);
    expect(pieces).toHaveLength(2);
    expect(pieces[0].low).toBeCloseTo(Math.PI, 14);
    expect(pieces[0].high).toBeCloseTo(2 * Math.PI, 14);
    expect(pieces[1].low).toBeCloseTo(3 * Math.PI, 14);
    expect(pieces[1].high).toBe(12);
  });

  test("sees a peak and a dip that are narrower than its steps", () => {
    const peak = safePieces((x) => 1e-6 - (x - 1 / 3) ** 2, 0, 1); // above zero within 0.001 of 1/3
    expect(peak).toHaveLength(2);
    expect(peak[0].high).toBeCloseTo(1 / 3 - 1e-3, 12);
    expect(peak[1].low).toBeCloseTo(1 / 3 + 1e-3, 12);
    const dip = safePieces((x) => (x - 1 / 3) ** 2 - 1e-6, 0, 1);
    expect(dip).toHaveLength(1);
    expect(dip[0].low).toBeCloseTo(1 / 3 - 1e-3, 12);
    expect(dip[0].high).toBeCloseTo(1 / 3 + 1e-3, 12);
  });

  test("answers none and all", () => {
    expect(safePieces(() => 1, 0, 1)).toEqual([]);
    expect(safePieces(() => -1, 0, 1)).toEqual([{ low: 0, high: 1 }]);
    expect(safePieces(() => -1, 2, 2)).toEqual([{ low: 2, high: 2 }]);
    expect(safePieces(() => Infinity, 0, 1)).toEqual([]);
  });

  test("agrees with a plain walk over cubics", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 4, maxLength: 4 }),
        (c) => {
          const gap = (x: number) => c[0] + c[1] * x + c[2] * x * x + c[3] * x ** 3;
          const pieces = safePieces(gap, -1, 1);
          for (let k = 0; k <= 997; k++) {
            const x = -1 + (2 * k) / 997;
            // At the very ends rounding decides.
            if (Math.abs(gap(x)) < 1e-9) continue;
            expect(pieces.some(({ low, high }) => x >= low && x <= high)).toBe(gap(x) <= 0);
          }
        },
      ),
      { seed: 11, numRuns: 200 },
    );
  });
});
