import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { leastSquares, NumericsError, refitter, seededRandom } from "../../src/numerics/index.ts";
import { worstDigits } from "./digits.ts";
import { column, design, expectNear, ones } from "./whole-number-design.ts";

const seed = { seed: 20261125 };

describe("refitter", () => {
  test("gives what least squares gives, response after response", () => {
    fc.assert(
      fc.property(design, fc.nat(), ({ columns, response, weights }, draws) => {
        const random = seededRandom(draws);
        const many = refitter(columns, { weights });
        for (let k = 0; k < 3; k++) {
          const other = response.map((value) => value + random.normal());
          const fit = leastSquares(columns, other, { weights });
          const refit = many.refit(other);
          expect([many.rank, many.df, many.kept]).toEqual([fit.rank, fit.df, fit.kept]);
          const size = Math.max(...other.map(Math.abs)) * fit.condition;
          expectNear(refit.coefficients, fit.coefficients, 1e-14 * size * fit.condition);
          const total = other.reduce((sum, value, i) => sum + weights[i] * value * value, 0);
          expectNear([refit.residualSumOfSquares], [fit.residualSumOfSquares], 1e-13 * total);
        }
      }),
      seed,
    );
  });

  test("reweighing to how often a row was drawn equals the fit of the drawn rows", () => {
    const random = seededRandom(11);
    const rows = 24;
    const columns = [
      ones(rows),
      ...[1, 2, 3].map(() => column(...Array.from({ length: rows }, () => random.normal()))),
    ];
    const response = Float64Array.from({ length: rows }, () => random.normal());
    const many = refitter(columns);
    for (let draw = 0; draw < 20; draw++) {
      const drawn = Array.from({ length: rows }, () => random.integer(rows));
      const counts = new Float64Array(rows);
      for (const i of drawn) counts[i]++;
      const picked = leastSquares(
        columns.map(({ high }) => ({ high: Float64Array.from(drawn, (i) => high[i]) })),
        Float64Array.from(drawn, (i) => response[i]),
      );
      const refit = many.reweigh(response, counts);
      expect(refit).toBeDefined();
      expect(worstDigits(refit!.coefficients, picked.coefficients)).toBeGreaterThan(11);
      expect(worstDigits([refit!.residualSumOfSquares], [picked.residualSumOfSquares])).toBeGreaterThan(12);
    }
  });

  test("says so when the rows drawn can't tell the columns apart", () => {
    const many = refitter([ones(4), column(0, 0, 1, 1)]);
    expect(many.reweigh(Float64Array.of(1, 2, 3, 4), Float64Array.of(2, 2, 0, 0))).toBeUndefined();
    expect(many.reweigh(Float64Array.of(1, 2, 3, 4), Float64Array.of(2, 1, 1, 0))).toBeDefined();
  });

  test("results of earlier calls stay as they were", () => {
    const many = refitter([ones(3)]);
    const first = many.refit(Float64Array.of(1, 2, 6));
    many.refit(Float64Array.of(9, 9, 9));
    expect(first.coefficients[0]).toBeCloseTo(3, 14);
  });

  test("refuses a matrix without a column or a response of another length", () => {
    expect(() => refitter([])).toThrow(NumericsError);
    expect(() => refitter([ones(3)]).refit(Float64Array.of(1, 2))).toThrow(
      "a response of 2 entries; expected 3.",
    );
  });
});
