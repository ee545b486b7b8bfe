import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { leastSquares, NumericsError, productColumn, seededRandom } from "../../src/numerics/index.ts";
import { worstDigits } from "./digits.ts";
import { column, design, expectNear, ones } from "./whole-number-design.ts";
import { fractions, rationalLeastSquares } from "./rational-least-squares.ts";

const seed = { seed: 20261125 };

describe("least squares", () => {
  test("a straight line by hand: 2, 4, 5, 8 over 1, 2, 3, 4 is 0 + 1.9 x with residuals 0.1, 0.2, −0.7, 0.4", () => {
    const fit = leastSquares([ones(4), column(1, 2, 3, 4)], Float64Array.of(2, 4, 5, 8));
    expectNear(fit.coefficients, [0, 1.9], 1e-15);
    expectNear(fit.residuals, [0.1, 0.2, -0.7, 0.4], 1e-15);
    expectNear(fit.fitted, [1.9, 3.8, 5.7, 7.6], 1e-14);
    expectNear([fit.residualSumOfSquares], [0.7], 2e-16);
    // Unrefined at this condition: a few units of the last place.
    expectNear(fit.inverseCross, [1.5, -0.5, -0.5, 0.2], 2e-15);
    expectNear(fit.leverage, [0.7, 0.3, 0.3, 0.7], 1e-15);
    expectNear(fit.sequential, [90.25, 18.05], 1e-13);
    expect([fit.rank, fit.df, fit.rows, fit.columns]).toEqual([2, 2, 4, 2]);
  });

  test("agrees with exact rational arithmetic, weights included, on whatever whole numbers come", () => {
    fc.assert(
      fc.property(design, ({ columns, response, weights }) => {
        const fit = leastSquares(columns, response, { weights });
        const kept = fit.kept.map((j) => fractions(columns[j].high));
        const exact = rationalLeastSquares(kept, fractions(response), fractions(weights));
        const size = Math.max(...exact.coefficients.map(Math.abs), Number.MIN_VALUE);
        // Refined to the last place of each coefficient, or of rounding noise below 2⁻¹⁰⁰ of the largest.
        expectNear(fit.coefficients, exact.coefficients, 3e-16 * size);
        // Variances: relative error within 0.2 · 2.2e-16 · 256, see the threshold of refinement.
        const most = Math.max(...exact.inverseCross.map(Math.abs));
        expectNear(fit.inverseCross, exact.inverseCross, 1e-13 * most);
        expectNear(
          [fit.residualSumOfSquares],
          [exact.residualSumOfSquares],
          1e-14 * exact.residualSumOfSquares + fit.roundingSumOfSquares,
        );
      }),
      { ...seed, numRuns: 300 },
    );
  });

  test("residuals stand at right angles to every column, dropped ones too", () => {
    fc.assert(
      fc.property(design, ({ columns, response, weights }) => {
        const fit = leastSquares(columns, response, { weights });
        for (const { high } of columns) {
          const along = high.reduce((sum, value, i) => sum + value * weights[i] * fit.residuals[i], 0);
          // 14 rows of at most 9 · 5 · 2000, each rounded to 1.1e-16.
          expect(Math.abs(along)).toBeLessThan(14 * 9 * 5 * 2000 * 1.2e-16 * 10);
        }
      }),
      seed,
    );
  });

  test("the order of the rows changes nothing but the last places", () => {
    fc.assert(
      fc.property(design, fc.nat(), ({ columns, response }, shuffleSeed) => {
        const order = seededRandom(shuffleSeed).shuffle([...response.keys()]);
        const moved = (values: Float64Array) => Float64Array.from(order, (i) => values[i]);
        const first = leastSquares(columns, response);
        const second = leastSquares(
          columns.map(({ high }) => ({ high: moved(high) })),
          moved(response),
        );
        expect(second.kept).toEqual(first.kept);
        const size = Math.max(...first.coefficients.map(Math.abs), Number.MIN_VALUE);
        expectNear(second.coefficients, first.coefficients, 3e-16 * size);
        expectNear(second.leverage, moved(first.leverage), 1e-13);
      }),
      seed,
    );
  });

  test("a change of units by a power of two changes each figure by exactly that power", () => {
    const fit = leastSquares(
      [ones(5), column(0.1, 0.2, 0.3, 0.5, 0.9)],
      Float64Array.of(1.1, 1.9, 3.2, 5.3, 8.8),
    );
    const scaled = leastSquares(
      [ones(5), column(...[0.1, 0.2, 0.3, 0.5, 0.9].map((x) => x * 2 ** 40))],
      Float64Array.of(1.1, 1.9, 3.2, 5.3, 8.8).map((y) => y * 2 ** -90),
    );
    expect(scaled.coefficients).toEqual(
      Float64Array.of(fit.coefficients[0] * 2 ** -90, fit.coefficients[1] * 2 ** -130),
    );
    expect(scaled.inverseCross[3]).toBe(fit.inverseCross[3] * 2 ** -80);
    expect(scaled.residualSumOfSquares).toBe(fit.residualSumOfSquares * 2 ** -180);
  });

  test("a weight of 3 is the row three times, and a weight of 0 is no row, though it is predicted", () => {
    const x = [0.3, 1.1, 1.9, 3.2, 4.4];
    const y = [2.1, 2.9, 4.5, 5.1, 9];
    const weighted = leastSquares([ones(5), column(...x)], Float64Array.from(y), {
      weights: Float64Array.of(1, 3, 1, 1, 0),
    });
    const repeated = leastSquares(
      [ones(6), column(0.3, 1.1, 1.1, 1.1, 1.9, 3.2)],
      Float64Array.of(2.1, 2.9, 2.9, 2.9, 4.5, 5.1),
    );
    expect(worstDigits(weighted.coefficients, repeated.coefficients)).toBeGreaterThan(15.5);
    expect(worstDigits(weighted.inverseCross, repeated.inverseCross)).toBeGreaterThan(14.5);
    expect(worstDigits([weighted.residualSumOfSquares], [repeated.residualSumOfSquares])).toBeGreaterThan(
      14.5,
    );
    expect(weighted.leverage[1]).toBeCloseTo(3 * repeated.leverage[1], 14);
    expect(weighted.leverage[4]).toBe(0);
    expect(weighted.fitted[4]).toBeCloseTo(weighted.coefficients[0] + 4.4 * weighted.coefficients[1], 14);
    expect([weighted.df, weighted.rows]).toEqual([2, 5]);
  });

  test("weights that differ by twenty powers of ten lose no digits", () => {
    const random = seededRandom(3);
    const columns = [
      ones(24),
      ...[1, 2, 3].map(() => column(...Array.from({ length: 24 }, () => random.integer(19) - 9))),
    ];
    const response = Float64Array.from({ length: 24 }, () => random.integer(1000) / 8);
    const weights = Float64Array.from({ length: 24 }, () => 2 ** (random.integer(67) - 33));
    const fit = leastSquares(columns, response, { weights });
    const exact = rationalLeastSquares(
      columns.map(({ high }) => fractions(high)),
      fractions(response),
      fractions(weights),
    );
    expect(worstDigits(fit.coefficients, exact.coefficients)).toBeGreaterThan(15);
    expect(worstDigits(fit.inverseCross, exact.inverseCross)).toBeGreaterThan(12.5);
  });

  test("what each column adds is the fall of the residual sum of squares of nested models", () => {
    fc.assert(
      fc.property(design, ({ columns, response }) => {
        const whole = leastSquares(columns, response);
        const total = response.reduce((sum, y) => sum + y * y, 0);
        const left = whole.kept.map(
          (_, k) =>
            leastSquares(
              whole.kept.slice(0, k + 1).map((j) => columns[j]),
              response,
            ).residualSumOfSquares,
        );
        const falls = left.map((value, k) => (k === 0 ? total : left[k - 1]) - value);
        expectNear(whole.sequential, falls, 1e-13 * total);
      }),
      seed,
    );
  });

  test("a large mean takes no digits from the effects behind it", () => {
    // 1e12 + 0.5 and the like are exact doubles: the effect's sum of squares is exactly that of the small numbers.
    const x = column(-1, -1, 1, 1, -1, -1, 1, 1);
    const small = [0.5, 0.25, 1.5, 1.75, 0.5, 0.75, 1.25, 1.5];
    const plain = leastSquares([ones(8), x], Float64Array.from(small));
    const shifted = leastSquares(
      [ones(8), x],
      Float64Array.from(small, (value) => 1e12 + value),
    );
    expect(shifted.sequential[1]).toBe(plain.sequential[1]);
    expect(shifted.residualSumOfSquares).toBe(plain.residualSumOfSquares);
  });

  test("leverages lie between 0 and 1 and add up to the rank", () => {
    fc.assert(
      fc.property(design, ({ columns, response, weights }) => {
        const { leverage, rank } = leastSquares(columns, response, { weights });
        expect(Math.min(...leverage)).toBeGreaterThanOrEqual(0);
        expect(Math.max(...leverage)).toBeLessThanOrEqual(1);
        expect(leverage.reduce((sum, value) => sum + value, 0)).toBeCloseTo(rank, 12);
      }),
      seed,
    );
  });

  test("an exact fit leaves residuals of rounding only, and roundingSumOfSquares says so", () => {
    const x = column(0.1, 0.2, 0.4, 0.7, 1.1);
    const fit = leastSquares(
      [ones(5), x],
      Float64Array.from(x.high, (value) => 3 + 0.7 * value),
    );
    expect(fit.residualSumOfSquares).toBeLessThanOrEqual(fit.roundingSumOfSquares);
    const noisy = leastSquares([ones(5), x], Float64Array.of(1, 2, 1, 2, 1));
    expect(noisy.residualSumOfSquares).toBeGreaterThan(1e25 * noisy.roundingSumOfSquares);
  });

  test("nothing that was given is changed", () => {
    const columns = [ones(3), productColumn(column(0.1, 0.2, 0.3), column(1, 2, 4))];
    const response = Float64Array.of(3, 1, 2);
    const weights = Float64Array.of(1, 2, 0.5);
    const before = structuredClone({ columns, response, weights });
    leastSquares(columns, response, { weights });
    expect({ columns, response, weights }).toEqual(before);
  });
});

describe("what least squares refuses", () => {
  const refusal = (act: () => unknown): string => {
    try {
      act();
    } catch (error) {
      if (error instanceof NumericsError) return error.message;
      throw error;
    }
    return "nothing was refused";
  };

  test.each([
    [
      "a response without a single value; expected at least one row.",
      () => leastSquares([], new Float64Array(0)),
    ],
    [
      "column 1, with 2 entries; expected 3, one a row.",
      () => leastSquares([ones(3), ones(2)], Float64Array.of(1, 2, 3)),
    ],
    [
      "the response holds NaN in row 1; expected a finite number.",
      () => leastSquares([ones(2)], Float64Array.of(1, NaN)),
    ],
    [
      "column 0 holds Infinity in row 0; expected a finite number.",
      () => leastSquares([column(Infinity, 1)], Float64Array.of(1, 2)),
    ],
    [
      "weight -1 in row 1; expected 0 or more.",
      () => leastSquares([ones(2)], Float64Array.of(1, 2), { weights: Float64Array.of(1, -1) }),
    ],
    [
      "weights that are all 0; expected at least one row of weight above 0.",
      () => leastSquares([ones(2)], Float64Array.of(1, 2), { weights: new Float64Array(2) }),
    ],
    [
      "a rank tolerance of 0; expected a number between 0 and 1.",
      () => leastSquares([ones(2)], Float64Array.of(1, 2), { rankTolerance: 0 }),
    ],
  ])("%s", (message, act) => {
    expect(refusal(act)).toBe(message);
  });
});
