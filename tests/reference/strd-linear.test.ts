import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { leastSquares, mean, powerColumn, sumOfSquaredDeviations } from "../../src/numerics/index.ts";
import { digits, worstDigits } from "../numerics/digits.ts";
import { fractions, rationalLeastSquares, toPower } from "../numerics/rational-least-squares.ts";
import { linearSets } from "./strd-linear-names.ts";

interface LinearSet {
  readonly name: string;
  readonly response: readonly number[];
  readonly predictors: readonly (readonly number[])[];
  readonly coefficients: readonly {
    readonly index: number;
    readonly estimate: number;
    readonly standardError: number;
  }[];
  readonly residualSd: number;
  readonly rSquared: number;
  readonly between: { readonly df: number; readonly sumOfSquares: number };
  readonly residual: { readonly df: number; readonly sumOfSquares: number };
  readonly f: number | "infinite";
}

const folder = new URL("../fixtures/strd/linear/", import.meta.url);

function readSet(name: string): LinearSet {
  return JSON.parse(readFileSync(new URL(`${name.toLowerCase()}.json`, folder), "utf8")) as LinearSet;
}

/** One predictor: its powers, as many as there are coefficients. Several (Longley): a column each behind the column of ones. */
function columnsOf(set: LinearSet) {
  const x = set.predictors.map((values) => Float64Array.from(values));
  return x.length === 1
    ? set.coefficients.map(({ index }) => powerColumn(x[0], index))
    : [powerColumn(x[0], 0), ...x.map((high) => ({ high }))];
}

function exactFit(set: LinearSet) {
  const x = set.predictors.map(fractions);
  const columns =
    x.length === 1 ? set.coefficients.map(({ index }) => toPower(x[0], index)) : [toPower(x[0], 0), ...x];
  return rationalLeastSquares(columns, fractions(set.response));
}

/** Certified values have 15 digits. Wampler2's data are decimals: what reading them into doubles leaves of coefficients that should all be powers of 0.1 is 13 digits. */
for (const name of linearSets) {
  const set = readSet(name);
  const response = Float64Array.from(set.response);
  const fit = leastSquares(columnsOf(set), response);
  const sd = Math.sqrt(fit.residualSumOfSquares / fit.df);
  const standardErrors = fit.coefficients.map((_, k) => sd * Math.sqrt(fit.inverseCross[k * fit.rank + k]));
  const throughOrigin = name.startsWith("NoInt");
  const total = throughOrigin
    ? sumOfSquaredDeviations(response) + response.length * mean(response) ** 2
    : sumOfSquaredDeviations(response);
  const model = fit.sequential.subarray(throughOrigin ? 0 : 1).reduce((sum, value) => sum + value, 0);
  const reached = {
    coefficients: worstDigits(
      fit.coefficients,
      set.coefficients.map(({ estimate }) => estimate),
    ),
    standardErrors: worstDigits(
      standardErrors,
      set.coefficients.map(({ standardError }) => standardError),
    ),
    residualSd: digits(sd, set.residualSd),
    rSquared: digits(1 - fit.residualSumOfSquares / total, set.rSquared),
    f: set.f === "infinite" ? 17 : digits(model / set.between.df / (sd * sd), set.f),
    modelSum: digits(model, set.between.sumOfSquares),
  };
  const told = Object.entries(reached)
    .map(([what, count]) => `${what} ${count.toFixed(1)}`)
    .join(", ");

  describe(`StRD ${name}`, () => {
    test(`digits against the certified values: ${told}`, () => {
      expect(fit.rank).toBe(set.coefficients.length);
      expect(fit.df).toBe(set.residual.df);
      expect(fit.dropped).toEqual([]);
      expect(reached.coefficients).toBeGreaterThan(13);
      // Wampler1 and 2 leave nothing; a certified 0 is met to 1e-12 of the response's unit.
      expect(reached.standardErrors).toBeGreaterThan(13);
      expect(reached.residualSd).toBeGreaterThan(13);
      expect(reached.rSquared).toBeGreaterThan(13);
      expect(reached.f).toBeGreaterThan(12.9);
      expect(reached.modelSum).toBeGreaterThan(13.5);
    });

    test("every figure is that of exact arithmetic on the same doubles, to 14 digits and more", () => {
      const exact = exactFit(set);
      // One rounding at the end: half a unit of the last place is 15.95 digits at worst; a coefficient scaled back by powers of two adds none.
      expect(worstDigits(fit.coefficients, exact.coefficients)).toBeGreaterThan(15.3);
      expect(worstDigits(fit.inverseCross, exact.inverseCross)).toBeGreaterThan(13.8);
      if (exact.residualSumOfSquares > fit.roundingSumOfSquares)
        expect(digits(fit.residualSumOfSquares, exact.residualSumOfSquares)).toBeGreaterThan(14.5);
      else expect(fit.residualSumOfSquares).toBeLessThanOrEqual(fit.roundingSumOfSquares);
    });
  });
}
