import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor, Run } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed } from "./factors.ts";

/** A second road: the correlation of a −1/+1 column with a power of the run number, by the textbook formula. */
function correlationWithTime(runs: readonly Run[], name: string, power: number): number {
  const level = runs.map((run) => Number(run.settings[name]));
  const time = runs.map((run) => (run.run - (runs.length + 1) / 2) ** power);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [levelMean, timeMean] = [mean(level), mean(time)];
  const cross = mean(level.map((value, index) => (value - levelMean) * ((time[index] ?? 0) - timeMean)));
  const spread = (values: readonly number[], centre: number) =>
    Math.sqrt(mean(values.map((value) => (value - centre) ** 2)));
  return cross / (spread(level, levelMean) * spread(time, timeMean));
}

describe("an order", () => {
  test("is the same for the same seed and another for another seed", () => {
    const plan = (seed: number, order: string) =>
      layOut({ factors: [feed, coolant, edge], layout: { kind: "factorial", replicates: 2, seed, order } })
        .runs;
    for (const order of ["random", "drift-proof"]) {
      expect(plan(7, order)).toEqual(plan(7, order));
      expect(plan(7, order)).not.toEqual(plan(8, order));
    }
  });

  test("cuts every run once, whatever the order", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("random", "drift-proof", "as-listed"),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 4 }),
        fc.integer({ min: 0, max: 99 }),
        (order, replicates, centrePoints, seed) => {
          const factors: readonly Factor[] = [feed, coolant];
          const { runs } = layOut({
            factors,
            layout: { kind: "factorial", replicates, centrePoints, order, seed },
          });
          expect(runs).toHaveLength(6 * replicates + 3 * centrePoints);
          expect(new Set(runs.map((run) => run.standard)).size).toBe(runs.length);
        },
      ),
      { seed: 20261125, numRuns: 40 },
    );
  });

  test("spreads centre points: first, middle and last", () => {
    const { runs } = layOut({ factors: coded(3), layout: { kind: "factorial", centrePoints: 3 } });
    expect(runs.filter((run) => run.role === "centre").map((run) => run.run)).toEqual([1, 6, 11]);
  });
});

test("a factor that is hard to change is set once a whole plot, each replicate by itself", () => {
  const factors: readonly Factor[] = [feed, { ...edge, change: "hard" }, coolant];
  const layout = layOut({ factors, layout: { kind: "factorial", replicates: 2, seed: 9 } });
  const plots = Array.from({ length: 4 }, (_, plot) => layout.runs.slice(6 * plot, 6 * plot + 6));
  for (const plot of plots) {
    expect(new Set(plot.map((run) => run.settings.edge)).size).toBe(1);
    expect(new Set(plot.map((run) => `${run.settings.feed} ${run.settings.coolant}`)).size).toBe(6);
  }
  expect(layout.orderRules).toEqual([
    "edge is hard to change and set anew 4 times, also where the setting stays the same; set-ups (whole plots), and the runs in each, stand in random order, drawn from seed 9.",
    "What edge does is known by the scatter between set-ups: analyse as a split plot.",
  ]);
});

// Cheng and Jacroux 1988; Daniel and Wilcoxon 1966: the two-level factorials whose main effects can be kept clear of drift.
describe("a drift-proof order of a two-level factorial", () => {
  test.each([3, 4, 5, 6, 7])("2^%i: a steady drift moves no main effect", (count) => {
    const { runs } = layOut({
      factors: coded(count),
      layout: { kind: "factorial", order: "drift-proof", seed: 3 },
    });
    for (const factor of coded(count))
      expect(Math.abs(correlationWithTime(runs, factor.name, 1))).toBeLessThan(1e-14);
  });

  test.each([4, 5, 6, 7])("2^%i: a bending drift moves no main effect", (count) => {
    const { runs } = layOut({
      factors: coded(count),
      layout: { kind: "factorial", order: "drift-proof", seed: 11 },
    });
    for (const factor of coded(count))
      expect(Math.abs(correlationWithTime(runs, factor.name, 2))).toBeLessThan(1e-14);
  });

  test("2^3: no order of its 8 runs does better on a bending drift, by trying them all", () => {
    // Every main effect clear of steady drift means a column of four times −1 and +1 with Σ t = 18 on each side (t = 1 … 8).
    const { runs } = layOut({
      factors: coded(3),
      layout: { kind: "factorial", order: "drift-proof", seed: 3 },
    });
    const reached = Math.max(
      ...coded(3).map((factor) => Math.abs(correlationWithTime(runs, factor.name, 2))),
    );
    expect(reached).toBeCloseTo(leastBendingOfThree(), 10);
  });

  test("keeps replicates apart: each is cut whole before the next", () => {
    const { runs } = layOut({
      factors: coded(4),
      layout: { kind: "factorial", order: "drift-proof", replicates: 2, seed: 5 },
    });
    const first = runs.slice(0, 16).map((run) =>
      coded(4)
        .map((factor) => run.settings[factor.name])
        .join(),
    );
    expect(new Set(first).size).toBe(16);
  });

  test("stays clear of steady drift with centre points between", () => {
    const { runs } = layOut({
      factors: coded(4),
      layout: { kind: "factorial", order: "drift-proof", centrePoints: 3, seed: 5 },
    });
    for (const factor of coded(4))
      expect(Math.abs(correlationWithTime(runs, factor.name, 1))).toBeLessThan(1e-14);
  });

  test("says what it reached", () => {
    const { orderRules } = layOut({
      factors: coded(4),
      layout: { kind: "factorial", order: "drift-proof", seed: 5 },
    });
    expect(orderRules).toEqual([
      "Drift-proof order by construction, which of the equal orders drawn from seed 5: neither a steady nor a bending drift moves a main effect.",
      "Drift is counted in runs, not in minutes of cut: the trial does not state pass, cutter and speeds.",
    ]);
  });
});

/** The least worst bending correlation over all orders of a 2³ with every main effect clear of steady drift. */
function leastBendingOfThree(): number {
  const times = Array.from({ length: 8 }, (_, index) => index - 3.5);
  const squares = times.map((time) => time * time - 5.25);
  const spread = Math.sqrt(squares.reduce((sum, value) => sum + value * value, 0) * 8);
  const columns: { bits: number; bending: number }[] = [];
  for (let bits = 0; bits < 256; bits += 1) {
    const signs = times.map((_, index) => ((bits >> index) & 1 ? 1 : -1));
    const sum = (values: readonly number[]) =>
      signs.reduce((total, sign, index) => total + sign * (values[index] ?? 0), 0);
    if (sum(times.map(() => 1)) !== 0 || sum(times) !== 0) continue;
    columns.push({ bits, bending: Math.abs(sum(squares)) / spread });
  }
  let least = 1;
  for (const a of columns)
    for (const b of columns)
      for (const c of columns) {
        const seen = new Set(
          times.map((_, i) => ((a.bits >> i) & 1) | (((b.bits >> i) & 1) << 1) | (((c.bits >> i) & 1) << 2)),
        );
        if (seen.size === 8) least = Math.min(least, Math.max(a.bending, b.bending, c.bending));
      }
  return least;
}

test("an anchor at a ratio's middle is told in digits that a person can read", () => {
  const wide = { ...feed, low: 0.1, high: 0.18, scale: "log" as const };
  const { orderRules } = layOut({ factors: [wide], layout: { kind: "sweep", points: 3, anchorEvery: 3 } });
  // √(0.1 × 0.18) = 0.1341640786…
  expect(orderRules).toContain(
    "An anchor run (feed 0.134164 mm/rev) is cut first, after every 3 runs, and last, so that drift can be read off it.",
  );
});
