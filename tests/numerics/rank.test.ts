import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { leastSquares, type LeastSquares } from "../../src/numerics/index.ts";
import { column, design, expectNear, ones } from "./whole-number-design.ts";

const seed = { seed: 20261125 };

describe("rank", () => {
  const dependence = (fit: LeastSquares) => fit.dropped.map(({ column: j, on }) => [j, on]);

  test("the later of inseparable columns is dropped, and told as a combination of the earlier", () => {
    const a = [1, 2, 3, 4, 7];
    const b = [2, -1, 5, 0, 1];
    const fit = leastSquares(
      [
        ones(5),
        column(...a),
        column(...b),
        column(...a.map((value, i) => 3 + 2 * value - b[i])),
        column(0, 0, 1, 0, 0),
      ],
      Float64Array.of(1, 5, 2, 8, 3),
    );
    expect(fit.kept).toEqual([0, 1, 2, 4]);
    expect(dependence(fit)).toEqual([
      [
        3,
        [
          { column: 0, coefficient: 3 },
          { column: 1, coefficient: 2 },
          { column: 2, coefficient: -1 },
        ],
      ],
    ]);
    expect([fit.rank, fit.df, fit.coefficients.length]).toEqual([4, 1, 4]);
  });

  test("decimals that add up only within rounding still count as added up", () => {
    const feed = [0.1, 0.12, 0.17, 0.2, 0.31];
    const inches = feed.map((value) => value / 25.4);
    const fit = leastSquares([ones(5), column(...feed), column(...inches)], Float64Array.of(1, 2, 3, 4, 5));
    expect(fit.kept).toEqual([0, 1]);
    expect(fit.dropped[0].on).toHaveLength(1);
    expect(fit.dropped[0].on[0].coefficient).toBeCloseTo(1 / 25.4, 15);
  });

  test("any whole-number combination of columns is found, whatever the columns", () => {
    fc.assert(
      fc.property(
        design,
        fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 5, maxLength: 5 }),
        ({ columns, response }, multiples) => {
          const base = leastSquares(columns, response);
          const sum = Float64Array.from(response, (_, i) =>
            base.kept.reduce((total, j, k) => total + multiples[k] * columns[j].high[i], 0),
          );
          const fit = leastSquares([...base.kept.map((j) => columns[j]), { high: sum }], response);
          expect(fit.rank).toBe(base.rank);
          const told = base.kept.map(
            (_, k) => fit.dropped[0].on.find(({ column: j }) => j === k)?.coefficient ?? 0,
          );
          expectNear(
            told,
            base.kept.map((_, k) => multiples[k]),
            1e-14,
          );
        },
      ),
      seed,
    );
  });

  test("a difference of one part in 1e9 is a difference, of one in 1e14 is not", () => {
    const x = [1, 2, 3, 4, 5, 6];
    const nearly = (size: number) => x.map((value, i) => value + size * (i % 2));
    const response = Float64Array.of(1, 3, 2, 5, 4, 7);
    expect(leastSquares([ones(6), column(...x), column(...nearly(1e-9))], response).rank).toBe(3);
    expect(leastSquares([ones(6), column(...x), column(...nearly(1e-14))], response).rank).toBe(2);
  });

  test("finds the lost rank of Kahan's matrix, none of whose diagonals is small", () => {
    // Kahan 1966: R with diagonal sᵏ and −c·sᵏ to its right. With c = 0.8 and 40 columns the smallest diagonal is 0.6³⁹ = 2e-9, the smallest singular value
    // below 1e-18.
    const n = 40;
    const [s, c] = [0.6, 0.8];
    const columns = Array.from({ length: n }, (_, j) =>
      column(...Array.from({ length: n }, (__, i) => (i < j ? -c * s ** i : i === j ? s ** i : 0))),
    );
    const fit = leastSquares(columns, new Float64Array(n).fill(1));
    expect(fit.rank).toBeLessThan(n);
    expect(fit.condition).toBeLessThan(1e13);
  });

  test("more columns than rows keep the first that fit in, and no degree of freedom is left", () => {
    const fit = leastSquares([ones(2), column(1, 3), column(2, 5), column(0, 1)], Float64Array.of(4, 8));
    expect([fit.kept, fit.rank, fit.df]).toEqual([[0, 1], 2, 0]);
    expectNear(fit.coefficients, [2, 2], 1e-15);
    expect(dependence(fit)).toEqual([
      [
        2,
        [
          { column: 0, coefficient: 0.5 },
          { column: 1, coefficient: 1.5 },
        ],
      ],
      [
        3,
        [
          { column: 0, coefficient: -0.5 },
          { column: 1, coefficient: 0.5 },
        ],
      ],
    ]);
  });

  test("a column of zeros is dropped and rests on nothing", () => {
    const fit = leastSquares([column(0, 0, 0), ones(3)], Float64Array.of(1, 2, 3));
    expect(fit.kept).toEqual([1]);
    expect(fit.dropped).toEqual([{ column: 0, on: [] }]);
  });

  test("a model without columns leaves the response as it is", () => {
    const fit = leastSquares([], Float64Array.of(3, 4));
    expect([fit.rank, fit.df, fit.residualSumOfSquares]).toEqual([0, 2, 25]);
    expect(fit.residuals).toEqual(Float64Array.of(3, 4));
  });
});
