import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  addExactly,
  divideExactly,
  dotExactly,
  mean,
  multiplyExactly,
  powerColumn,
  productColumn,
  squareRootExactly,
  standardDeviation,
  sumExactly,
  sumOfSquaredDeviations,
  twoProduct,
  twoSum,
  variance,
} from "../../src/numerics/index.ts";

const seed = { seed: 20261125 };

/** A double as a whole number of 2⁻¹⁰⁷⁴ths, so that sums can be compared without rounding. */
function exact(value: number): bigint {
  if (value === 0) return 0n;
  let exponent = 0;
  let scaled = value;
  while (!Number.isInteger(scaled)) {
    scaled *= 2;
    exponent++;
  }
  return BigInt(scaled) << BigInt(1074 - exponent);
}

const unit = 1n << 1074n;
const moderate = fc
  .double({ min: -1e60, max: 1e60, noNaN: true })
  .filter((x) => x === 0 || Math.abs(x) > 1e-60);
const wide = fc.double({ min: -1e300, max: 1e300, noNaN: true });

/** |part| ≤ whole · 2^−bits, without division. */
function withinBits(part: bigint, whole: bigint, bits: number): boolean {
  const size = (value: bigint) => (value < 0n ? -value : value);
  return size(part) << BigInt(bits) <= size(whole);
}

describe("double-double", () => {
  const pair = fc.tuple(moderate, moderate).map(([a, b]) => twoSum(a, b * 2 ** -60));
  const value = (x: { high: number; low: number }) => exact(x.high) + exact(x.low);

  test("two-sum and two-product lose nothing", () => {
    fc.assert(
      fc.property(moderate, moderate, (a, b) => {
        expect(value(twoSum(a, b))).toBe(exact(a) + exact(b));
        expect(value(twoProduct(a, b)) * unit).toBe(exact(a) * exact(b));
      }),
      seed,
    );
  });

  test("sum, product, quotient and root keep 100 bits", () => {
    fc.assert(
      fc.property(pair, pair, (a, b) => {
        const sum = value(a) + value(b);
        expect(withinBits(value(addExactly(a, b)) - sum, sum, 102)).toBe(true);
        const product = value(a) * value(b);
        expect(withinBits(value(multiplyExactly(a, b)) * unit - product, product, 102)).toBe(true);
        if (b.high !== 0) {
          const back = value(divideExactly(a, b)) * value(b);
          expect(withinBits(back - value(a) * unit, value(a) * unit, 100)).toBe(true);
        }
        const root = value(squareRootExactly(Math.abs(a.high)));
        const square = exact(Math.abs(a.high)) * unit;
        expect(withinBits(root * root - square, square, 100)).toBe(true);
      }),
      seed,
    );
  });

  test("columns of powers and products carry what a double loses", () => {
    const x = Float64Array.of(0.1, -6.860120914, 3);
    const tenth = powerColumn(x, 10);
    x.forEach((entry, i) => {
      const power = exact(entry) ** 10n;
      const held = (exact(tenth.high[i]) + exact(tenth.low?.[i] ?? 0)) * unit ** 9n;
      expect(withinBits(held - power, power, 100)).toBe(true);
    });
    expect(powerColumn(x, 0).high).toEqual(Float64Array.of(1, 1, 1));
    expect(powerColumn(x, 1).high).toEqual(x);
    const product = productColumn(tenth, { high: x });
    expect(product.high).toEqual(powerColumn(x, 11).high);
    expect(() => powerColumn(x, 0.5)).toThrow("the power 0.5; expected a whole number, 0 or more.");
  });
});

describe("exact sums", () => {
  test("the sum is the exact one, rounded once, in any order", () => {
    fc.assert(
      fc.property(fc.array(wide, { maxLength: 40 }), (values) => {
        const sum = sumExactly(values);
        const total = values.reduce((all, x) => all + exact(x), 0n);
        // Nearest double: no neighbour is nearer.
        const away = (x: number) => (exact(x) > total ? exact(x) - total : total - exact(x));
        const step = Math.max(Math.abs(sum) * Number.EPSILON, Number.MIN_VALUE);
        expect(away(sum)).toBeLessThanOrEqual(away(sum + step));
        expect(away(sum)).toBeLessThanOrEqual(away(sum - step));
        expect(sumExactly([...values].reverse())).toBe(sum);
      }),
      seed,
    );
  });

  test("a tie is decided by the smallest part", () => {
    expect(sumExactly([1, 2 ** -53, 2 ** -120])).toBe(1 + 2 ** -52);
    expect(sumExactly([1, 2 ** -53, -(2 ** -120)])).toBe(1);
    expect(sumExactly([1e16, 1, -1e16])).toBe(1);
    expect(sumExactly([])).toBe(0);
  });

  test("products are summed without loss", () => {
    expect(dotExactly([1e8 + 1, 1], [1e8 - 1, -1e16])).toBe(-1);
    fc.assert(
      fc.property(fc.array(fc.tuple(moderate, moderate), { maxLength: 30 }), (pairs) => {
        const total = pairs.reduce((all, [a, b]) => all + exact(a) * exact(b), 0n);
        const sum = dotExactly(
          pairs.map(([a]) => a),
          pairs.map(([, b]) => b),
        );
        expect(withinBits(exact(sum) * unit - total, total, 52)).toBe(true);
      }),
      seed,
    );
  });

  test("what is not finite is refused", () => {
    expect(() => sumExactly([1, Infinity])).toThrow("not finite");
    expect(() => dotExactly([1], [1, 2])).toThrow("1 and 2 entries; expected as many of both.");
  });
});

describe("mean and variance", () => {
  test("a shift that doubles can hold changes the mean by itself and the variance by nothing", () => {
    const values = [0.25, 1.5, 0.75, 2, 1];
    const shifted = values.map((x) => x + 2 ** 48);
    expect(mean(shifted)).toBe(mean(values) + 2 ** 48);
    expect(variance(shifted)).toBe(variance(values));
  });

  test("values by hand: 1, 2, 6 have mean 3 and sum of squares 14", () => {
    expect([mean([1, 2, 6]), sumOfSquaredDeviations([1, 2, 6]), standardDeviation([1, 2, 3])]).toEqual([
      3, 14, 1,
    ]);
  });

  test("too few values are refused", () => {
    expect(() => mean([])).toThrow("the mean of no values; expected one or more.");
    expect(() => variance([1])).toThrow("the variance of 1 values; expected two or more.");
  });
});
