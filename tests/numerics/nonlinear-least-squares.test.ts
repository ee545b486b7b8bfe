import { describe, expect, test } from "vitest";
import { nonlinearLeastSquares, seededRandom } from "../../src/numerics/index.ts";
import type { NonlinearModel } from "../../src/numerics/index.ts";

const x = Float64Array.from({ length: 12 }, (_, i) => i / 2);

/** b0·exp(−b1·x) + b2, derivatives by hand. */
const decay: NonlinearModel = {
  rows: x.length,
  parameters: 3,
  evaluate: (b, value, jacobian) => {
    x.forEach((at, i) => {
      const e = Math.exp(-b[1] * at);
      value[i] = b[0] * e + b[2];
      jacobian[i] = e;
      jacobian[x.length + i] = -b[0] * at * e;
      jacobian[2 * x.length + i] = 1;
    });
  },
};

function readings(sd: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  return x.map((at) => 3 * Math.exp(-0.8 * at) + 1 + sd * random.normal());
}

describe("nonlinear least squares", () => {
  test("a curve without scatter is found to rounding and called exact", () => {
    const fit = nonlinearLeastSquares(decay, readings(0, 1), Float64Array.of(1, 0.2, 0), { linear: [0, 2] });
    expect(fit.outcome).toBe("exact");
    [3, 0.8, 1].forEach((truth, k) => expect(fit.parameters[k]).toBeCloseTo(truth, 12));
  });

  test("solving for the linear parameters leads to the same minimum as searching for all", () => {
    const response = readings(0.05, 20261125);
    const start = Float64Array.of(2, 0.5, 0.5);
    const apart = nonlinearLeastSquares(decay, response, start, { linear: [0, 2] });
    const all = nonlinearLeastSquares(decay, response, start);
    expect([apart.outcome, all.outcome]).toEqual(["converged", "converged"]);
    for (let k = 0; k < 3; k++) expect(apart.parameters[k]).toBeCloseTo(all.parameters[k], 11);
  });

  test("at the minimum the residuals stand at right angles to every derivative", () => {
    const fit = nonlinearLeastSquares(decay, readings(0.05, 7), Float64Array.of(1, 1, 1), { linear: [0, 2] });
    for (let k = 0; k < 3; k++) {
      let product = 0;
      fit.residuals.forEach((r, i) => (product += r * fit.jacobian[k * x.length + i]));
      // Twelve products of about 0.05, each rounded.
      expect(Math.abs(product)).toBeLessThan(1e-13);
    }
    expect(fit.relativeOffset).toBeLessThan(1e-10);
  });

  test("a row of weight 0 has no say, not even with a reading far off", () => {
    const response = readings(0.05, 3);
    const weights = new Float64Array(x.length).fill(1);
    weights[4] = 0;
    const start = Float64Array.of(1, 1, 1);
    const first = nonlinearLeastSquares(decay, response, start, { weights });
    response[4] = 1e6;
    const second = nonlinearLeastSquares(decay, response, start, { weights });
    expect(second.parameters).toEqual(first.parameters);
    expect(first.df).toBe(x.length - 1 - 3);
  });

  test("a fixed parameter stays where it is", () => {
    const fit = nonlinearLeastSquares(decay, readings(0.05, 3), Float64Array.of(1, 0.5, 1), { fixed: [1] });
    expect(fit.parameters[1]).toBe(0.5);
    expect(fit.df).toBe(x.length - 2);
  });

  test("parameters that only matter together are named inseparable", () => {
    const product: NonlinearModel = {
      rows: x.length,
      parameters: 2,
      evaluate: (b, value, jacobian) =>
        x.forEach((at, i) => {
          value[i] = b[0] * b[1] * at;
          jacobian[i] = b[1] * at;
          jacobian[x.length + i] = b[0] * at;
        }),
    };
    const fit = nonlinearLeastSquares(product, readings(0.05, 3), Float64Array.of(1, 1));
    expect(fit.outcome).toBe("inseparable");
    expect(fit.inseparable).toEqual([0, 1]);
  });

  test("a start at which the model can't be computed is an outcome, not a number", () => {
    const root: NonlinearModel = {
      rows: 2,
      parameters: 1,
      evaluate: (b, value, jacobian) => {
        value.fill(Math.sqrt(b[0]));
        jacobian.fill(0.5 / Math.sqrt(b[0]));
      },
    };
    expect(nonlinearLeastSquares(root, Float64Array.of(1, 2), Float64Array.of(-1)).outcome).toBe(
      "not-finite",
    );
  });

  test("too few iterations are called a limit, and nothing given is changed", () => {
    const start = Float64Array.of(1, 5, 1);
    const response = readings(0.05, 3);
    const before = [Float64Array.from(start), Float64Array.from(response)];
    const fit = nonlinearLeastSquares(decay, response, start, { maxIterations: 0 });
    expect(["limit", "converged"]).toContain(fit.outcome);
    expect([start, response]).toEqual(before);
    expect(() => nonlinearLeastSquares(decay, response.subarray(1), start)).toThrow(
      "11 responses for 12 rows; expected one a row, weights too.",
    );
  });
});
