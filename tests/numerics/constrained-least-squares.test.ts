import { describe, expect, test } from "vitest";
import { constrainedLeastSquares, leastSquares, seededRandom } from "../../src/numerics/index.ts";

const random = seededRandom(4711);
const rows = 20;
const one = new Float64Array(rows).fill(1);
const columns = [
  one,
  ...Array.from({ length: 3 }, () => Float64Array.from({ length: rows }, () => random.normal())),
];
const design = columns.map((high) => ({ high }));
const response = Float64Array.from(
  { length: rows },
  (_, i) => 2 + columns[1][i] - columns[2][i] + random.normal(),
);

/** The second road: b − C⁻¹Aᵀ(AC⁻¹Aᵀ)⁻¹(Ab − d) for a single constraint. */
function byUpdate(multiples: Float64Array, value: number, weights?: Float64Array) {
  const full = leastSquares(design, response, weights === undefined ? {} : { weights });
  const c = Array.from({ length: 4 }, (_, i) =>
    multiples.reduce((sum, a, j) => sum + full.inverseCross[i * 4 + j] * a, 0),
  );
  const inner = multiples.reduce((sum, a, i) => sum + a * c[i], 0);
  const gap = multiples.reduce((sum, a, i) => sum + a * full.coefficients[i], 0) - value;
  return {
    coefficients: full.coefficients.map((b, i) => b - (c[i] * gap) / inner),
    cross: Float64Array.from(
      full.inverseCross,
      (entry, k) => entry - (c[Math.floor(k / 4)] * c[k % 4]) / inner,
    ),
    residual: full.residualSumOfSquares + (gap * gap) / inner,
  };
}

describe("constrainedLeastSquares", () => {
  test.each([false, true])("agrees with the update of the free fit (weights: %s)", (weighted) => {
    const weights = weighted ? Float64Array.from({ length: rows }, (_, i) => 1 + (i % 3)) : undefined;
    const multiples = Float64Array.of(0, 1, 1, -2);
    const found = constrainedLeastSquares(
      design,
      response,
      [{ multiples, value: 0.5 }],
      weights === undefined ? {} : { weights },
    );
    const wanted = byUpdate(multiples, 0.5, weights);
    wanted.coefficients.forEach((value, k) => expect(found.coefficients[k]).toBeCloseTo(value, 12));
    wanted.cross.forEach((value, k) => expect(found.inverseCross[k]).toBeCloseTo(value, 12));
    expect(found.residualSumOfSquares).toBeCloseTo(wanted.residual, 10);
    expect(found.df).toBe(rows - 3);
  });

  test("meets the constraints to rounding", () => {
    const constraints = [
      { multiples: Float64Array.of(0, 1, 1, 1), value: 0 },
      { multiples: Float64Array.of(1, 0, 0, 0), value: 2 },
    ];
    const { coefficients } = constrainedLeastSquares(design, response, constraints);
    expect(coefficients[1] + coefficients[2] + coefficients[3]).toBeCloseTo(0, 13);
    expect(coefficients[0]).toBeCloseTo(2, 14);
  });

  test("refuses what says nothing, what says the same twice, and what leaves nothing free", () => {
    const sum = { multiples: Float64Array.of(0, 1, 1, 1), value: 0 };
    expect(() => constrainedLeastSquares(design, response, [sum, { ...sum, value: 1 }])).toThrow(
      "constraint 2, which the others already fix; expected constraints that say something each. Leave it out.",
    );
    expect(() => constrainedLeastSquares(design, response, [sum, sum, sum, sum])).toThrow(
      "4 constraints on 4 columns; expected fewer constraints than columns.",
    );
  });
});
