import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coolant, edge, feed, speed } from "./factors.ts";

function counts(
  factors: readonly Factor[],
  runs: readonly { settings: Readonly<Record<string, unknown>> }[],
) {
  const found = new Map<string, number>();
  for (const run of runs) {
    const key = factors.map((factor) => String(run.settings[factor.name])).join("|");
    found.set(key, (found.get(key) ?? 0) + 1);
  }
  return found;
}

describe("a factorial", () => {
  test("holds every combination of the levels as often as there are replicates", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 2, max: 4 }),
        fc.integer({ min: 0, max: 1000 }),
        (replicates, levels, seed) => {
          const factors = [feed, coolant, speed];
          const { runs } = layOut({ factors, layout: { kind: "factorial", replicates, levels, seed } });
          const found = [...counts(factors, runs).values()];
          expect(found).toHaveLength(levels * 3 * levels);
          expect(new Set(found)).toEqual(new Set([replicates]));
          expect(runs.map((run) => run.run)).toEqual(runs.map((_, index) => index + 1));
          expect(runs.map((run) => run.standard).sort((a, b) => a - b)).toEqual(
            runs.map((_, index) => index + 1),
          );
        },
      ),
      { seed: 20261125, numRuns: 30 },
    );
  });

  test("uses the levels that a factor states, and spaces others by the factor's scale", () => {
    const stated = { ...feed, levels: [0.08, 0.1, 0.24] };
    const { runs } = layOut({
      factors: [stated, speed],
      layout: { kind: "factorial", levels: { speed: 3 } },
    });
    expect([...new Set(runs.map((run) => run.settings.feed))].sort()).toEqual([0.08, 0.1, 0.24]);
    expect([...new Set(runs.map((run) => run.settings.speed))].sort((a, b) => Number(a) - Number(b))).toEqual(
      [800, 1000, 1250],
    );
  });

  test("puts centre points at each combination of categories, and says so", () => {
    const layout = layOut({ factors: [feed, edge], layout: { kind: "factorial", centrePoints: 3 } });
    const centre = layout.runs.filter((run) => run.role === "centre");
    expect(centre).toHaveLength(6);
    expect(centre.every((run) => run.settings.feed === 0.16)).toBe(true);
    expect(centre.filter((run) => run.settings.edge === "used")).toHaveLength(3);
    expect(layout.notes).toEqual(["3 centre runs at each of the 2 combinations of categories, 6 in all."]);
  });

  test("deals whole replicates to blocks, so that each block is balanced", () => {
    const factors = [feed, edge];
    const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 4, blocks: 2 } });
    for (const block of [1, 2]) {
      expect([
        ...counts(
          factors,
          runs.filter((run) => run.block === block),
        ).values(),
      ]).toEqual([2, 2, 2, 2]);
    }
    expect(runs.map((run) => run.block)).toEqual([...runs.map((run) => run.block)].sort());
  });

  test("leaves what it was given alone", () => {
    const factors = Object.freeze([
      Object.freeze({ ...feed }),
      Object.freeze({ ...coolant, levels: Object.freeze([...coolant.levels]) }),
    ]);
    const layout = Object.freeze({ kind: "factorial", replicates: 2, order: "drift-proof" });
    expect(layOut({ factors, layout }).runs).toHaveLength(12);
  });
});

describe("what a factorial refuses", () => {
  const refused = (
    layout: { kind: string } & Record<string, unknown>,
    factors: readonly Factor[] = [feed, edge],
  ) => {
    try {
      layOut({ factors, layout });
    } catch (error) {
      return (error as Error).message;
    }
    return "nothing";
  };

  test("an unknown option, by name, with those known", () => {
    expect(refused({ kind: "factorial", replicate: 2 })).toBe(
      'layout: "replicate" is not an option of "factorial". It takes blocks, borders, centrePoints, changes, largeChanges, levels, order, protect, replicates, seed, warmUp and wholePlots.',
    );
  });

  test("an unknown kind, with those known", () => {
    expect(refused({ kind: "facorial" })).toMatch(
      /^layout\.kind: "facorial" is not a kind of layout\. Known kinds are sweep, factorial, /,
    );
  });

  test("a wrong value, with what was expected", () => {
    expect(refused({ kind: "factorial", replicates: 1.5 })).toBe(
      "layout.replicates: expected a whole number, got 1.5.",
    );
    expect(refused({ kind: "factorial", order: "any" })).toBe(
      'layout.order: expected "random", "drift-proof", "fewest-changes" or "as-listed", got "any".',
    );
    expect(refused({ kind: "factorial", seed: -1 })).toBe("layout.seed: expected a number from 0, got -1.");
  });

  test("centre points without a quantity", () => {
    expect(refused({ kind: "factorial", centrePoints: 2 }, [edge, coolant])).toBe(
      'layout "factorial": centrePoints is 2, but a centre needs a factor that is a quantity. Set centrePoints to 0.',
    );
  });

  test("more runs than can be laid out, before they are made", () => {
    expect(refused({ kind: "factorial", levels: 50, replicates: 1000 }, [feed, speed])).toBe(
      'layout "factorial": 2,500,000 runs are more than the 20,000 that can be laid out. Take at most 8 replicates.',
    );
  });

  test("two factors of one name", () => {
    expect(refused({ kind: "factorial" }, [feed, feed])).toBe(
      'factors: "feed" named more than once. Give each factor a name of its own.',
    );
  });
});
