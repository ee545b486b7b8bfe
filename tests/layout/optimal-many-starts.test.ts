import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded } from "./factors.ts";
import { information, lossOf, solved } from "./plain-information.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "optimal", order: "as-listed", ...layout } });
const named = (count: number) => coded(count).map((factor, index) => ({ ...factor, name: `x${index + 1}` }));

describe("an optimal surface comes near the best of very many starts", () => {
  const { results } = JSON.parse(
    readFileSync(new URL("../fixtures/layouts/optimal-best-of-many.json", import.meta.url), "utf8"),
  ) as { results: { name: string; starts: number; logDeterminant: number; averageVariance: number }[] };
  const bestOf = (name: string) => {
    const found = results.find((result) => result.name === name);
    if (!found) throw new Error(`no figure for ${name}`);
    return found;
  };

  test("of 5 factors in 30 runs, by D: 100 starts within 0.5 % of the best of 10,000", () => {
    const { logDeterminant, starts } = bestOf("5 factors, 30 runs, full quadratic, by D");
    expect(starts).toBe(10_000);
    const layout = plan(named(5), { runs: 30, terms: "surface", starts: 100 });
    const judged = judge(layout.runs, named(5), { model: "surface", sigma: 1 });
    expect(judged.efficiency.D).toBeGreaterThan((0.995 * Math.exp(logDeterminant / 21)) / 30);
  });

  test("of 5 factors in 30 runs, by I: 100 starts within 1 % of the best of 10,000", () => {
    const { averageVariance } = bestOf("5 factors, 30 runs, full quadratic, by I");
    const layout = plan(named(5), { runs: 30, terms: "surface", criterion: "I", starts: 100 });
    const judged = judge(layout.runs, named(5), { model: "surface", sigma: 1 });
    // I is told against X′X = n·I: Σ moments / n over the variance; Σ = 1 + 5/3 + 10/9 + 5/5.
    const variance = (1 + 5 / 3 + 10 / 9 + 5 / 5) / 30 / judged.efficiency.I;
    expect(variance).toBeLessThan(1.01 * averageVariance);
  });

  // Of the size of the wind tunnel case of Goos and Jones (2011, ch. 10), from memory: two factors that are hard to change and two
  // that are easy, ten whole plots of five runs, full quadratic, variance ratio 1. Their layouts are not at hand, so the search
  // stands beside its own best of 2000 starts, and the criteria are computed afresh.
  test.each(["D", "I"] as const)(
    "in ten whole plots of five runs, by %s: 20 starts within 1 % of the best of 2000",
    (criterion) => {
      const best = bestOf(
        `2 hard and 2 easy factors, 10 whole plots of 5 runs, full quadratic, by ${criterion}`,
      );
      const factors = named(4).map((factor, index) => ({
        ...factor,
        change: index < 2 ? ("hard" as const) : ("easy" as const),
      }));
      const layout = plan(factors, {
        runs: 50,
        wholePlots: 10,
        varianceRatio: 1,
        terms: "surface",
        criterion,
        starts: 20,
      });
      const rows = layout.runs.map(({ settings }) => {
        const x = factors.map(({ name }) => Number(settings[name]));
        const products = x.flatMap((one, i) => x.slice(i + 1).map((other) => one * other));
        return [1, ...x, ...x.map((value) => value * value), ...products];
      });
      const found = information(
        rows,
        layout.runs.map((run) => run.wholePlot ?? 0),
        1,
      );
      if (criterion === "D") {
        expect(Math.log(solved(found).determinant) / 15).toBeGreaterThan(
          best.logDeterminant / 15 + Math.log(0.99),
        );
        return;
      }
      // Means over the cube: x² 1/3; x⁴ 1/5; x²y² 1/9.
      const degrees = [
        [0, 0, 0, 0],
        ...[1, 2].flatMap((degree) =>
          [0, 1, 2, 3].map((own) => [0, 1, 2, 3].map((k) => (k === own ? degree : 0))),
        ),
        ...[0, 1, 2].flatMap((i) =>
          [1, 2, 3].filter((j) => j > i).map((j) => [0, 1, 2, 3].map((k) => (k === i || k === j ? 1 : 0))),
        ),
      ];
      const moments = degrees.map((one) =>
        degrees.map((other) =>
          one.reduce((mean, degree, k) => {
            const power = degree + other[k];
            return power % 2 === 1 ? 0 : mean / (power + 1);
          }, 1),
        ),
      );
      expect(lossOf(found, "I", moments)).toBeLessThan(1.01 * best.averageVariance);
    },
  );
});
