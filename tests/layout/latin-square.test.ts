import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";

const factorsOf = (...levels: readonly number[]): readonly Factor[] =>
  levels.map((count, index) => ({
    kind: "category",
    name: ["tool", "position", "day", "operator", "blank", "shift"][index] ?? "",
    levels: Array.from({ length: count }, (_, level) => `l${level}`),
    change: "easy",
  }));
const plan = (factors: readonly Factor[], layout: Record<string, unknown> = {}) =>
  layOut({ factors, layout: { kind: "latin-square", ...layout } });
const pairCounts = (layout: ReturnType<typeof plan>, one: string, other: string) => {
  const counts = new Map<string, number>();
  for (const run of layout.runs) {
    const key = `${run.settings[one]} ${run.settings[other]}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return counts;
};

describe("a square", () => {
  test.each([
    [3, 3],
    [3, 4],
    [3, 5],
    [3, 6],
    [3, 10],
    [4, 3],
    [4, 4],
    [4, 5],
    [4, 7],
    [4, 8],
    [4, 9],
    [5, 4],
    [6, 5],
  ])("of %i factors with %i levels lets every two levels meet once", (factors, levels) => {
    const list = factorsOf(...new Array<number>(factors).fill(levels));
    const layout = plan(list);
    expect(layout.runs).toHaveLength(levels ** 2);
    list.forEach((one, first) => {
      for (const other of list.slice(first + 1)) {
        const counts = pairCounts(layout, one.name, other.name);
        expect(counts.size).toBe(levels ** 2);
      }
    });
  });

  test("is another for another seed, and each replicate is drawn anew", () => {
    const list = factorsOf(4, 4, 4);
    expect(plan(list, { seed: 1 }).runs).not.toEqual(plan(list, { seed: 2 }).runs);
    const { runs } = plan(list, { replicates: 2, blocks: 2 });
    expect(runs.filter((run) => run.block === 2)).toHaveLength(16);
  });

  test("leaves (n − 1)(n − 2) degrees of freedom for error", () => {
    const list = factorsOf(5, 5, 5);
    // Montgomery, chapter 4 (propellant): a 5 × 5 square has 12.
    expect(judge(plan(list).runs, list, { model: "main", sigma: 1 }).df).toBe(12);
  });
});

describe("a Youden square", () => {
  test.each([
    [7, 3, 1],
    [7, 4, 2],
    [11, 5, 2],
    [13, 4, 1],
    [5, 4, 3],
  ])("of %i symbols in %i positions lets every two symbols meet %i times", (symbols, positions, each) => {
    const list = factorsOf(symbols, positions, symbols);
    const layout = plan(list);
    expect(layout.runs).toHaveLength(symbols * positions);
    const byDay = new Map<string, Set<string>>();
    for (const { settings } of layout.runs) {
      const day = String(settings.day);
      byDay.set(day, (byDay.get(day) ?? new Set()).add(String(settings.tool)));
    }
    for (let one = 0; one < symbols; one += 1) {
      for (let other = 0; other < one; other += 1) {
        expect([...byDay.values()].filter((day) => day.has(`l${one}`) && day.has(`l${other}`))).toHaveLength(
          each,
        );
      }
    }
    expect([...pairCounts(layout, "tool", "position").values()].every((count) => count === 1)).toBe(true);
  });
});

describe("what a square refuses", () => {
  test("squares that don't exist or that it can't make", () => {
    expect(() => plan(factorsOf(6, 6, 6, 6))).toThrow(
      'layout "latin-square": 4 factors of 6 levels need 2 squares at right angles; this tool makes 1 for 6 levels. Take at most 3 factors, or 7 levels.',
    );
    expect(() => plan(factorsOf(7, 5, 7))).toThrow(
      'layout "latin-square": this tool has no Youden square of 7 symbols in 5 rows. Take 3, 4 or 6 levels, or all 7.',
    );
    expect(() => plan(factorsOf(3, 3))).toThrow(
      'layout "latin-square": 2 factors; a square takes three or more: what is compared and two nuisances. With two, use "factorial".',
    );
  });
});
