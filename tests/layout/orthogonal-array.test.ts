import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";

/** Categories with so many levels each, named f1, f2 and so on. */
const factorsOf = (...levels: readonly number[]): readonly Factor[] =>
  levels.map((count, index) => ({
    kind: "category",
    name: `f${index + 1}`,
    levels: Array.from({ length: count }, (_, level) => `l${level}`),
    change: "easy",
  }));
const many = (count: number, levels: number) => new Array<number>(count).fill(levels);
const plan = (factors: readonly Factor[], layout: Record<string, unknown> = {}) =>
  layOut({ factors, layout: { kind: "orthogonal-array", ...layout } });

describe("an orthogonal array", () => {
  test.each([
    [4, many(3, 2)],
    [8, many(7, 2)],
    [8, [4, ...many(4, 2)]],
    [9, many(4, 3)],
    [12, many(11, 2)],
    [16, many(15, 2)],
    [16, many(5, 4)],
    [16, [...many(2, 4), ...many(9, 2)]],
    [18, [2, ...many(7, 3)]],
    [25, many(6, 5)],
    [27, many(13, 3)],
    [32, many(31, 2)],
    [32, [...many(3, 4), ...many(10, 2)]],
    [36, [...many(11, 2), ...many(12, 3)]],
    [49, many(8, 7)],
    [54, [2, ...many(25, 3)]],
    [64, many(63, 2)],
    [64, many(21, 4)],
    [81, many(40, 3)],
    [12, [3, ...many(4, 2)]],
    [12, [6, 2, 2]],
    [12, [4, 3]],
    [16, [8, ...many(8, 2)]],
    [16, [...many(4, 4), ...many(3, 2)]],
    [18, [6, ...many(6, 3)]],
    [27, [9, ...many(9, 3)]],
    [32, [8, ...many(24, 2)]],
    [32, [16, ...many(16, 2)]],
    [32, [...many(9, 4), ...many(4, 2)]],
    [36, many(35, 2)],
    [36, [...many(4, 2), ...many(13, 3)]],
    [36, [4, ...many(13, 3)]],
    [36, [6, 2, 2, ...many(12, 3)]],
    [36, [12, ...many(12, 3)]],
    [54, [6, ...many(24, 3)]],
    [64, [...many(20, 4), ...many(3, 2)]],
    [64, many(9, 8)],
    [64, [...many(8, 8), ...many(7, 2)]],
    [64, [8, ...many(4, 4), ...many(8, 2)]],
    [81, many(10, 9)],
    [81, [...many(9, 9), ...many(4, 3)]],
    [81, [27, ...many(27, 3)]],
  ])("of %i runs holds its columns, every pair of levels equally often", (runs, levels) => {
    const factors = factorsOf(...levels);
    const layout = plan(factors, { runs });
    expect(layout.runs).toHaveLength(runs);
    factors.forEach((one, first) => {
      factors.slice(first + 1).forEach((other, index) => {
        const counts = new Map<string, number>();
        for (const run of layout.runs) {
          const key = `${run.settings[one.name]} ${run.settings[other.name]}`;
          counts.set(key, (counts.get(key) ?? 0) + 1);
        }
        const cells = (levels[first] ?? 0) * (levels[first + 1 + index] ?? 0);
        expect(counts.size).toBe(cells);
        expect(new Set(counts.values())).toEqual(new Set([runs / cells]));
      });
    });
  });

  test("takes the fewest runs by itself", () => {
    expect(plan(factorsOf(2, 3, 3, 3)).runs).toHaveLength(18);
    expect(plan(factorsOf(3, 3, 3)).runs).toHaveLength(9);
    expect(plan(factorsOf(4, 2, 2)).runs).toHaveLength(8);
  });

  test("keeps the named interactions clear of every factor", () => {
    const factors = factorsOf(2, 2, 2, 2, 2);
    const layout = plan(factors, {
      interactions: [
        ["f1", "f2"],
        ["f1", "f3"],
      ],
    });
    expect(layout.runs).toHaveLength(8);
    const sign = (settings: Readonly<Record<string, unknown>>, name: string) =>
      settings[name] === "l1" ? 1 : -1;
    for (const [one, other] of [
      ["f1", "f2"],
      ["f1", "f3"],
    ] as const) {
      for (const factor of factors) {
        expect(
          layout.runs.reduce(
            (sum, { settings }) =>
              sum + sign(settings, one) * sign(settings, other) * sign(settings, factor.name),
            0,
          ),
        ).toBe(0);
      }
    }
  });

  test("refuses what no array holds, with the sizes that do", () => {
    expect(() => plan(factorsOf(2, 3, 3), { runs: 9 })).toThrow(
      'layout "orthogonal-array": no array of 9 runs holds 1 factor of 2 levels and 2 factors of 3 levels. These do: 18, 36 and 54 runs.',
    );
    expect(() => plan(factorsOf(10, 2))).toThrow(
      'layout "orthogonal-array": no array here holds 1 factor of 10 levels and 1 factor of 2 levels. If all 2 have the same number of levels, that can be 2, 3, 4, 5, 7, 8 or 9; for other numbers use "optimal".',
    );
  });
});
