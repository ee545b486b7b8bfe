import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { leastSquares } from "../../src/numerics/index.ts";
import { digits } from "../numerics/digits.ts";

type Group =
  | { readonly values: readonly number[] }
  | { readonly first: number; readonly thenAlternately: readonly [number, number]; readonly count: number };

interface AnovaSet {
  readonly name: string;
  readonly groups: readonly Group[];
  readonly between: { readonly df: number; readonly sumOfSquares: number; readonly meanSquare: number };
  readonly residual: { readonly df: number; readonly sumOfSquares: number; readonly meanSquare: number };
  readonly rSquared: number;
  readonly residualSd: number;
  readonly f: number;
}

function valuesOf(group: Group): readonly number[] {
  if ("values" in group) return group.values;
  return Array.from({ length: group.count }, (_, i) =>
    i === 0 ? group.first : group.thenAlternately[(i + 1) % 2],
  );
}

/** Exact arithmetic on the data read into doubles reaches so many digits and no more: 3, 7 or 13 leading digits are the same in every value. */
const limits: Readonly<Record<string, number>> = {
  AtmWtAg: 10,
  SiRstv: 12.9,
  SmLs04: 9.8,
  SmLs05: 9.8,
  SmLs06: 9.8,
  SmLs07: 3.8,
  SmLs08: 3.8,
  SmLs09: 3.8,
};

const folder = new URL("../fixtures/strd/anova/", import.meta.url);

for (const file of readdirSync(folder)) {
  const set = JSON.parse(readFileSync(new URL(file, folder), "utf8")) as AnovaSet;
  const groups = set.groups.map(valuesOf);
  const response = Float64Array.from(groups.flat());
  const group = groups.flatMap((values, g) => values.map(() => g));
  // As a model of categories is coded: a constant, and each further group against the first.
  const columns = groups.map((_, g) => ({
    high: Float64Array.from(group, (own) => (g === 0 || own === g ? 1 : 0)),
  }));
  const fit = leastSquares(columns, response);
  const between = fit.sequential.subarray(1).reduce((sum, value) => sum + value, 0);
  const residualMean = fit.residualSumOfSquares / fit.df;
  const reached = {
    between: digits(between, set.between.sumOfSquares),
    residual: digits(fit.residualSumOfSquares, set.residual.sumOfSquares),
    f: digits(between / set.between.df / residualMean, set.f),
    rSquared: digits(between / (between + fit.residualSumOfSquares), set.rSquared),
    residualSd: digits(Math.sqrt(residualMean), set.residualSd),
  };
  const told = Object.entries(reached)
    .map(([what, count]) => `${what} ${count.toFixed(1)}`)
    .join(", ");
  describe(`StRD ${set.name}`, () => {
    test(`digits against the certified values: ${told}`, () => {
      expect([fit.rank - 1, fit.df]).toEqual([set.between.df, set.residual.df]);
      const limit = limits[set.name] ?? 14;
      for (const count of Object.values(reached)) expect(count).toBeGreaterThan(limit);
    });
  });
}
