import { describe, expect, test } from "vitest";
import { fitLinear, observeTable, robustFit } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { tableOf } from "./comparison/by-r.ts";

const line = (y: readonly number[]) =>
  fitLinear(
    observeTable(
      {
        columns: [
          { name: "x", unit: "", values: y.map((_, i) => i + 1) },
          { name: "y", unit: "", values: y },
        ],
      },
      { response: "y", factors: ["x"] },
    ),
  );

describe("a robust second opinion on a whole model", () => {
  test("one run far off does not pull the slope", () => {
    const found = robustFit(line([1, 2, 3, 4, 50]));
    expect(found.coefficients[1].leastSquares).toBeCloseTo(10, 10);
    expect(found.coefficients[1].robust).toBeCloseTo(1, 8);
    expect(found.setAside).toEqual([5]);
  });

  test("where it has settled, every run stands on its own bisquare weight", () => {
    const y = [1.1, 1.9, 3.2, 3.9, 5.1, 5.8, 7.2, 7.9, 9.1, 14];
    const found = robustFit(line(y));
    expect(found.converged).toBe(true);
    const [a, b] = found.coefficients.map(({ robust }) => robust);
    let [level, slope] = [0, 0];
    y.forEach((value, i) => {
      const residual = value - a - b * (i + 1);
      const u = residual / found.scale! / 4.685;
      const weight = Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
      expect(weight).toBeCloseTo(found.weights[i], 6);
      level += weight * residual;
      slope += weight * residual * (i + 1);
    });
    // The equations that an M-estimate solves.
    expect(Math.abs(level)).toBeLessThan(1e-7);
    expect(Math.abs(slope)).toBeLessThan(1e-6);
    expect(found.agrees).toBe(false);
    expect(found.text).toMatch(
      /differs from least squares by more than a standard error: .*single runs pull\. It sets aside run 10: look at it\./u,
    );
  });

  test("with categories and another factor a bad reading is found and said", () => {
    const edge = Array.from({ length: 12 }, (_, i) => (i % 2 ? "used" : "fresh"));
    const oil = Array.from({ length: 12 }, (_, i) => (i < 6 ? "a" : "b"));
    const random = seededRandom(4);
    const value = edge.map(
      (one, i) => 1 + (one === "used" ? 0.2 : 0) + (oil[i] === "b" ? 0.1 : 0) + 0.02 * random.normal(),
    );
    const clean = robustFit(fitLinear(tableOf({ edge, oil }, value)));
    expect(clean.agrees).toBe(true);
    expect(clean.text).toMatch(/agrees with least squares/u);
    value[4] += 1;
    const found = robustFit(fitLinear(tableOf({ edge, oil }, value)));
    expect(found.setAside).toContain(5);
    expect(found.coefficients.find(({ label }) => label.startsWith("edge"))!.robust).toBeCloseTo(0.2, 1);
  });

  test("on even scatter it differs from least squares by a fraction of a standard error", () => {
    const random = seededRandom(20261125);
    let apart = 0;
    for (let trial = 0; trial < 100; trial++) {
      const fit = line(Array.from({ length: 20 }, (_, i) => i + random.normal()));
      apart += Math.abs(robustFit(fit).coefficients[1].difference!) > 1 ? 1 : 0;
    }
    expect(apart).toBeLessThan(8);
  });

  test("runs that are met exactly, and weights, are told or refused in words", () => {
    expect(robustFit(line([1, 2, 3, 4, 5])).text).toMatch(/can't be set beside least squares/u);
    const two = tableOf({ edge: ["a", "b"] }, [1, 2]);
    expect(() => robustFit(fitLinear(two))).toThrow(/2 runs for 2 terms/u);
    const weighted = fitLinear(tableOf({ edge: ["a", "a", "b", "b"] }, [1, 2, 3, 5]), {
      weights: [1, 2, 1, 2],
    });
    expect(() => robustFit(weighted)).toThrow(/weighted fit/u);
  });
});
