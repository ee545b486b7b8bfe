import fc from "fast-check";
import { expect, test } from "vitest";
import { decimalsOf, numberText, tickTexts, toHalfWidth } from "../../src/figure/number-text.ts";
import { evenTicks, ratioTicks } from "../../src/figure/ticks.ts";

test("even ticks are round, inside the range, and no more than asked for", () => {
  expect(evenTicks(0.07, 0.25, 6)).toEqual([0.1, 0.15, 0.2, 0.25]);
  expect(evenTicks(-1, 1, 4)).toEqual([-1, -0.5, 0, 0.5, 1]);
  fc.assert(
    fc.property(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
      (low, span) => {
        const ticks = evenTicks(low, low + span, 6);
        expect(ticks.length).toBeGreaterThan(0);
        expect(ticks.length).toBeLessThanOrEqual(7);
        for (const tick of ticks) {
          // Half a millionth of a step of slack at the ends, as the function states.
          expect(tick).toBeGreaterThanOrEqual(low - span * 1e-6 - Math.abs(low) * 1e-11);
          expect(tick).toBeLessThanOrEqual(low + span + span * 1e-6 + Math.abs(low) * 1e-11);
        }
      },
    ),
    { seed: 13 },
  );
});

test("ticks for counted things are whole", () => {
  expect(evenTicks(3.2, 24.8, 9, "only")).toEqual([5, 10, 15, 20]);
  expect(evenTicks(0.9, 3.1, 10, "only")).toEqual([1, 2, 3]);
});

test("ticks of a scale of ratios are digits of each decade, fewer when there are many decades", () => {
  expect(ratioTicks(0.2, 2.1, 6)).toEqual([0.2, 0.3, 0.5, 1, 2]);
  expect(ratioTicks(0.01, 1000, 6)).toEqual([0.01, 0.1, 1, 10, 100, 1000]);
  expect(ratioTicks(1, 2, 6)).toEqual([1, 1.2, 1.4, 1.6, 1.8, 2]);
});

test("ticks of one scale share their decimals; those of ratios keep their own", () => {
  expect(tickTexts([0.5, 1, 1.5], "linear")).toEqual(["0.5", "1.0", "1.5"]);
  expect(tickTexts([0.5, 1, 2], "log")).toEqual(["0.5", "1", "2"]);
});

test("numbers have a true minus, thin spaces from five digits on and powers of ten at the far ends", () => {
  expect(numberText(-0.5, 1)).toBe("−0.5");
  expect(numberText(-0.001, 2)).toBe("0.00");
  expect(numberText(12345, 0)).toBe("12\u202f345");
  expect(numberText(1234, 0)).toBe("1234");
  expect(numberText(0.00002, 6)).toBe("2×10⁻⁵");
  expect(numberText(2_500_000, 0)).toBe("2.5×10⁶");
});

test("decimals are as many as tell the numbers, six at most", () => {
  expect(decimalsOf([0.08, 0.1])).toBe(2);
  expect(decimalsOf([1 / 3])).toBe(6);
});

test("a number is rounded to what its half-width can bear", () => {
  expect(toHalfWidth(1.0082, 0.0751)).toBe("1.01");
  expect(toHalfWidth(4.446, 0.331)).toBe("4.45");
  expect(toHalfWidth(4.446, 0.551)).toBe("4.4");
});
