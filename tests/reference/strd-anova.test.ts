import { readdirSync, readFileSync } from "node:fs";
import { afterAll, describe, expect, test } from "vitest";
import { leastSquares } from "../../src/numerics/index.ts";
import { fitMixed, observeTable } from "../../src/model/index.ts";
import { digits } from "../numerics/digits.ts";
import { printDigits, type DigitsRow } from "./digits-table.ts";
import { exactOneWay } from "./exact-one-way.ts";

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

const table: DigitsRow[] = [];
afterAll(() =>
  printDigits("StRD analysis of variance, digits against the certified values", table, [
    "All readings of SmLs04 to 06 share 7 leading digits, of SmLs07 to 09 all 13: what reading them into doubles leaves is 9.9 and 3.9 digits, in exact arithmetic",
    "too; there figures are held against exact arithmetic on the same doubles instead (column exact).",
  ]),
);

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
  const exact = exactOneWay(groups);
  const againstExact = Math.min(
    digits(between, exact.between),
    digits(fit.residualSumOfSquares, exact.residual),
    digits(between / set.between.df / residualMean, exact.f),
  );
  // A random source in place of the groups: the variances that the mean squares stand for, all groups being of one size.
  const size = groups[0].length;
  const random = fitMixed(
    observeTable(
      {
        columns: [
          { name: "group", unit: "", values: group.map((own) => `group ${own}`) },
          { name: "y", unit: "", values: [...response] },
        ],
      },
      { response: "y", factors: [], random: ["group"] },
    ),
  );
  const [among, within] = random.variances.map(({ variance }) => variance);
  const certifiedAmong = (set.between.meanSquare - set.residual.meanSquare) / size;
  const byChance = {
    among: digits(among, certifiedAmong),
    within: digits(within, set.residual.meanSquare),
    share: digits(among / (among + within), certifiedAmong / (certifiedAmong + set.residual.meanSquare)),
  };
  table.push({
    name: set.name,
    digits: {
      ...reached,
      exact: againstExact,
      "REML among": byChance.among,
      within: byChance.within,
      share: byChance.share,
    },
  });
  const told = Object.entries(reached)
    .map(([what, count]) => `${what} ${count.toFixed(1)}`)
    .join(", ");
  describe(`StRD ${set.name}`, () => {
    test(`digits against the certified values: ${told}`, () => {
      expect([fit.rank - 1, fit.df]).toEqual([set.between.df, set.residual.df]);
      const limit = limits[set.name] ?? 14;
      for (const count of Object.values(reached)) expect(count).toBeGreaterThan(limit);
    });

    test("sums of squares and F are those of exact arithmetic on the same doubles, to 13 digits", () => {
      expect(againstExact).toBeGreaterThan(13);
    });

    test("groups as a random source have the variances that the certified mean squares stand for", () => {
      // The search for the variances and F of 1.2 (SiRstv) cost a digit or two of what the doubles hold.
      for (const count of Object.values(byChance))
        expect(count).toBeGreaterThan(Math.min(limits[set.name] ?? 12, 12));
      expect(random.coefficients[0].df).toBeCloseTo(set.between.df, 3);
    });
  });
}
