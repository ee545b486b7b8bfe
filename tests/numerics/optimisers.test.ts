import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { brentMinimum, brentRoot, integrate } from "../../src/numerics/index.ts";
import { digits } from "./digits.ts";

const seed = { seed: 20261125 };

describe("root by Brent", () => {
  test("finds the last digit of √2, of a root at the end, of one where the function has no slope", () => {
    expect(brentRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(brentRoot((x) => x - 3, 3, 9)).toBe(3);
    expect(Math.abs(brentRoot((x) => x ** 9, -1, 4))).toBeLessThan(1e-15);
    expect(
      Math.abs(brentRoot((x) => Math.sign(x) * Math.exp(-1 / (x * x)), -0.3, 2, { tolerance: 1e-9 })),
    ).toBeLessThan(0.05);
  });

  test("stays in the bracket and changes sign at the answer, whatever the cubic", () => {
    const value = fc.double({ min: -50, max: 50, noNaN: true });
    fc.assert(
      fc.property(value, value, value, (a, b, c) => {
        const cubic = (x: number) => x ** 3 + a * x * x + b * x + c;
        const root = brentRoot(cubic, -200, 200);
        const step = 1e-15 * Math.max(1, Math.abs(root)) * 4;
        const size = Math.abs(root) ** 3 + Math.abs(a) * root * root + Math.abs(b * root) + Math.abs(c);
        const near = Math.abs(cubic(root)) <= 1e-14 * size;
        expect(near || cubic(root - step) > 0 !== cubic(root + step) > 0).toBe(true);
      }),
      seed,
    );
  });

  test("takes few steps where the function is smooth", () => {
    let calls = 0;
    brentRoot((x) => (calls++, Math.exp(x) - 5), 0, 10);
    expect(calls).toBeLessThan(16);
  });

  test("refuses ends of one sign and NaN", () => {
    expect(() => brentRoot((x) => x * x + 1, -1, 1)).toThrow("different sign at both ends");
    expect(() => brentRoot(() => NaN, -1, 1)).toThrow("a function that is NaN at -1");
  });
});

describe("minimum by Brent", () => {
  test("finds the foot of parabolas and of a sharp corner", () => {
    fc.assert(
      fc.property(fc.double({ min: -9, max: 9, noNaN: true }), (foot) => {
        expect(Math.abs(brentMinimum((x) => (x - foot) ** 2 + 3, -10, 10).at - foot)).toBeLessThan(
          3e-8 * Math.abs(foot) + 1e-9,
        );
        expect(Math.abs(brentMinimum((x) => Math.abs(x - foot), -10, 10).at - foot)).toBeLessThan(1e-6);
      }),
      seed,
    );
  });

  test("comes to the end where the function falls all the way", () => {
    const { at, value } = brentMinimum((x) => x, 2, 5);
    expect(at).toBeCloseTo(2, 6);
    expect(value).toBe(at);
  });

  test("refuses NaN", () => {
    expect(() => brentMinimum(() => NaN, 0, 1)).toThrow("NaN");
  });
});

describe("adaptive quadrature", () => {
  test("integrals known in closed form, within the tolerance asked for", () => {
    const cases: [(x: number) => number, number, number, number][] = [
      [(x) => x ** 5, 0, 2, 64 / 6],
      [Math.exp, 0, 1, Math.E - 1],
      [(x) => 1 / (1 + x * x), -Infinity, Infinity, Math.PI],
      [(x) => Math.exp(-x), 3, Infinity, Math.exp(-3)],
      [(x) => Math.exp(x), -Infinity, -1, Math.exp(-1)],
      [(x) => 1 / Math.sqrt(x), 0, 1, 2],
      [(x) => Math.abs(x - 1 / 3), 0, 1, 5 / 18],
      [(x) => 1e-4 / (1e-8 + x * x), -1, 1, 2 * Math.atan(1e4)],
      [Math.exp, 1, 0, 1 - Math.E],
    ];
    for (const [integrand, from, to, wanted] of cases) {
      const { value, error, reached } = integrate(integrand, from, to);
      expect(reached).toBe(true);
      expect(digits(value, wanted)).toBeGreaterThan(10);
      expect(Math.abs(value - wanted)).toBeLessThanOrEqual(error);
    }
  });

  test("says when the tolerance was not reached", () => {
    expect(integrate((x) => Math.sin(1 / x), 1e-6, 1, { mostPieces: 5 }).reached).toBe(false);
  });

  test("refuses an integrand that is not finite", () => {
    expect(() => integrate((x) => 1 / x, -1, 1)).toThrow(
      "an integrand that is Infinity at 0; expected a finite number.",
    );
  });
});
