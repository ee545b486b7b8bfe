import {
  MultivariateLinearRegression,
  PolynomialRegression,
  PowerRegression,
  SimpleLinearRegression,
} from "ml-regression";
import { describe, expect, test } from "vitest";
import {
  fitLinear,
  fitPowerLaw,
  observeTable,
  secondOpinion,
  secondOpinionOn,
} from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";

const table = (columns: Readonly<Record<string, readonly (number | string)[]>>, factors: readonly string[]) =>
  observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors },
  );

describe("secondOpinion", () => {
  test("is not pulled by one run, and says that least squares is", () => {
    const opinion = secondOpinion(fitLinear(table({ x: [1, 2, 3, 4, 5], y: [1, 2, 3, 4, 50] }, ["x"])), "x");
    expect(opinion.leastSquares).toBeCloseTo(10, 12);
    expect(opinion.robust).toBeCloseTo(1, 12);
  });

  test("agrees where nothing pulls", () => {
    const random = seededRandom(5);
    const x = Array.from({ length: 20 }, (_, i) => i / 10);
    const opinion = secondOpinion(
      fitLinear(table({ x, y: x.map((v) => 1 + 2 * v + 0.1 * random.normal()) }, ["x"])),
      "x",
    );
    expect(opinion.agrees).toBe(true);
    expect(opinion.text).toBe(
      "Least squares gives the slope of x as 2.06, 95 % 2.00 to 2.12; the median over all pairs of runs is 2.05, less than a standard error from it.",
    );
  });

  test("names the runs that lie far off where it disagrees", () => {
    const x = Array.from({ length: 12 }, (_, i) => i);
    const y = x.map((v, i) => (i === 11 ? 60 : v) + (i % 2) * 0.2);
    const opinion = secondOpinion(fitLinear(table({ x, y }, ["x"])), "x");
    expect(opinion.robust).toBeCloseTo(1, 1);
    expect(opinion.agrees).toBe(false);
    expect(opinion.text).toMatch(
      /, more than a standard error from it: a few runs pull the slope\. Look at run 12, which lies far off\.$/,
    );
  });

  test("hardly ever disagrees on clean runs: the two differ by 0.3 to 0.4 of a standard error", () => {
    const random = seededRandom(99);
    const x = [0.08, 0.08, 0.12, 0.12, 0.16, 0.16, 0.2, 0.2, 0.24, 0.24];
    let disagreed = 0;
    let squares = 0;
    const trials = 500;
    for (let t = 0; t < trials; t++) {
      const fit = fitLinear(table({ x, y: x.map((v) => v + 0.05 * random.normal()) }, ["x"]));
      const { agrees, robust, leastSquares } = secondOpinion(fit, "x");
      if (agrees === false) disagreed++;
      squares += ((robust! - leastSquares!) / fit.coefficients[1].standardError!) ** 2;
    }
    // 0.011 in 4,000 trials; four standard errors of a share of 0.011 in 500 are 0.019.
    expect(disagreed / trials).toBeLessThan(0.03);
    expect(Math.sqrt(squares / trials)).toBeGreaterThan(0.3);
    expect(Math.sqrt(squares / trials)).toBeLessThan(0.45);
  });

  test("takes off what other terms explain: a category, in a power law", () => {
    const feeds = [0.1, 0.2, 0.4, 0.1, 0.2, 0.4];
    const edges = ["a", "a", "a", "b", "b", "b"];
    const fit = fitPowerLaw(
      table({ feed: feeds, edge: edges, y: feeds.map((f, i) => f ** 1.5 * (i < 3 ? 1 : 3)) }, [
        "feed",
        "edge",
      ]),
    );
    expect(secondOpinion(fit, "feed").robust).toBeCloseTo(1.5, 10);
  });

  test("is the same on the coded scale, times half the range", () => {
    const columns = { x: [10, 20, 30, 40, 50], y: [1, 2.5, 2.9, 4.2, 5.1] };
    const natural = secondOpinion(fitLinear(table(columns, ["x"])), "x");
    const coded = secondOpinion(fitLinear(table(columns, ["x"]), { coded: true }), "x");
    expect(coded.robust).toBeCloseTo(natural.robust! * 20, 12);
  });

  test("gives a reason where there is no one slope", () => {
    const fit = fitLinear(table({ x: [1, 2, 3, 4, 5], y: [1, 4, 9, 16, 25] }, ["x"]), { model: "surface" });
    expect(secondOpinion(fit, "x").text).toBe(
      "No second opinion on x: its slope is not the same everywhere in this model.",
    );
    expect(() => secondOpinion(fit, "z")).toThrow('"z" for a slope; expected a quantity: x.');
  });
});

describe("the same estimates by other code", () => {
  const random = seededRandom(20261125);
  const x = Array.from({ length: 30 }, () => 1 + random.next());
  const z = Array.from({ length: 30 }, () => 5 * random.next());
  const y = x.map((v, i) => 2 + 3 * v - z[i] + 0.2 * random.normal());
  const estimates = (fit: ReturnType<typeof fitLinear>) => fit.coefficients.map(({ estimate }) => estimate);
  /** ml-regression works with plain normal equations or an unrefined decomposition; these small cases leave it nine digits. */
  const nineDigits = 9;

  test("a line", () => {
    const other = new SimpleLinearRegression(x, y);
    const [constant, slope] = estimates(fitLinear(table({ x, y }, ["x"])));
    expect(constant).toBeCloseTo(other.intercept, nineDigits);
    expect(slope).toBeCloseTo(other.slope, nineDigits);
  });

  test("a polynomial of third degree", () => {
    const other = new PolynomialRegression(x, y, 3);
    estimates(fitLinear(table({ x, y }, ["x"]), { terms: [{ x: 1 }, { x: 2 }, { x: 3 }] })).forEach(
      (estimate, k) =>
        expect(Math.abs(estimate - other.coefficients[k])).toBeLessThan(1e-6 * (1 + Math.abs(estimate))),
    );
  });

  test("several factors", () => {
    const other = new MultivariateLinearRegression(
      x.map((v, i) => [v, z[i]]),
      y.map((v) => [v]),
    );
    const [constant, ofX, ofZ] = estimates(fitLinear(table({ x, z, y }, ["x", "z"])));
    expect([ofX, ofZ, constant].map((value, k) => Math.abs(value - other.weights[k][0]) < 1e-9)).toEqual([
      true,
      true,
      true,
    ]);
  });

  test("a power law", () => {
    const positive = x.map((v, i) => v ** 1.7 * (1 + 0.01 * z[i]));
    const other = new PowerRegression(x, positive);
    const [constant, exponent] = estimates(fitPowerLaw(table({ x, y: positive }, ["x"])));
    expect(Math.exp(constant)).toBeCloseTo(other.A, nineDigits);
    expect(exponent).toBeCloseTo(other.B, nineDigits);
  });
});

describe("secondOpinionOn", () => {
  const edge = ["fresh", "used", "fresh", "used", "fresh", "used", "fresh", "used"];
  const x = [1, 2, 3, 4, 5, 6, 7, 8];

  test("takes the median over all pairs for a single slope", () => {
    expect(secondOpinionOn(fitLinear(table({ x, y: [1, 2, 3.1, 4, 5.2, 6, 7, 40] }, ["x"])))).toContain(
      "the median over all pairs of runs",
    );
  });

  test("fits the whole model robustly where there is more than one slope or a category, and names the run that pulls", () => {
    const y = [1, 2.1, 3.05, 4, 4.95, 6.1, 7, 30];
    for (const factors of [["edge"], ["x", "edge"]])
      expect(secondOpinionOn(fitLinear(table({ x, edge, y }, factors)))).toMatch(/^A robust fit of y/u);
    expect(secondOpinionOn(fitLinear(table({ x, edge, y }, ["x", "edge"])))).toContain("run 8");
  });

  test("is empty where no run is left over, where rows are weighted, and for a mean alone", () => {
    expect(secondOpinionOn(fitLinear(table({ x: [1, 2], y: [1, 3] }, ["x"])))).toBe("");
    const weights = x.map((_, i) => 1 + i);
    expect(secondOpinionOn(fitLinear(table({ x, y: x }, ["x"]), { weights }))).toBe("");
    expect(secondOpinionOn(fitLinear(table({ x, y: [2, 1, 2, 3, 2, 1, 2, 2] }, ["x"]), { terms: [] }))).toBe(
      "",
    );
  });
});
