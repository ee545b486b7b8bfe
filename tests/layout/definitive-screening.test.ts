import { describe, expect, test } from "vitest";
import { judge, layOut, LayoutError } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, edge, feed } from "./factors.ts";

const named = (count: number): readonly Factor[] =>
  coded(count).map((factor, index) => ({ ...factor, name: `x${index + 1}` }));
const rowsOf = (count: number, layout: Record<string, unknown> = {}) =>
  layOut({ factors: named(count), layout: { kind: "definitive-screening", ...layout } }).runs.map((run) =>
    named(count).map((factor) => Number(run.settings[factor.name])),
  );
const cross = (rows: readonly (readonly number[])[], ...columns: readonly number[]) =>
  rows.reduce((sum, row) => sum + columns.reduce((product, column) => product * (row[column] ?? 0), 1), 0);

describe("definitive screening", () => {
  test.each(Array.from({ length: 28 - 1 }, (_, index) => index + 4))(
    "of %i factors has main effects clear of each other, of squares and of products",
    (count) => {
      const rows = rowsOf(count);
      const order = count <= 20 || count > 22 ? count + (count % 2) : 24;
      expect(rows).toHaveLength(2 * order + 1);
      for (let a = 0; a < count; a += 1) {
        expect(cross(rows, a, a)).toBe(2 * (order - 1));
        for (let b = 0; b < count; b += 1) {
          if (b < a) expect(cross(rows, a, b)).toBe(0);
          expect(cross(rows, a, b, b)).toBe(0);
          for (let c = 0; c < b; c += 1) expect(cross(rows, a, b, c)).toBe(0);
        }
      }
    },
  );

  // Jones and Nachtsheim 2011: two squares correlate by 1/3 − 1/(m − 1), m factors: 0.1333 for six.
  test("of six factors: 13 runs, squares correlate by 0.1333", () => {
    const rows = rowsOf(6);
    const squares = [0, 1].map((column) => rows.map((row) => (row[column] ?? 0) ** 2));
    const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    const [first = [], second = []] = squares.map((values) => values.map((value) => value - mean(values)));
    const product = first.reduce((sum, value, row) => sum + value * (second[row] ?? 0), 0);
    expect(product / first.reduce((sum, value) => sum + value * value, 0)).toBeCloseTo(2 / 15, 12);
    expect(rows).toHaveLength(13);
  });

  test("with extra runs takes the layout for more factors", () => {
    expect(rowsOf(6, { extra: 4 })).toHaveLength(17);
  });

  test("in blocks keeps main effects clear of blocks", () => {
    const layout = layOut({ factors: named(6), layout: { kind: "definitive-screening", blocks: 2 } });
    for (const block of [1, 2]) {
      const own = layout.runs.filter((run) => run.block === block);
      expect(own).toHaveLength(7);
      for (const factor of named(6))
        expect(own.reduce((sum, run) => sum + Number(run.settings[factor.name]), 0)).toBe(0);
    }
  });

  test("with two-level categories cuts no category at a middle, and keeps main effects clear of products", () => {
    const factors: readonly Factor[] = [
      ...named(4),
      edge,
      { ...edge, name: "coolant", levels: ["dry", "flood"] },
    ];
    const layout = layOut({ factors, layout: { kind: "definitive-screening" } });
    expect(layout.runs).toHaveLength(14);
    const rows = layout.runs.map((run) =>
      factors.map((factor) => {
        const setting = run.settings[factor.name];
        return factor.kind === "quantity" ? Number(setting) : factor.levels.indexOf(String(setting)) * 2 - 1;
      }),
    );
    expect(rows.every((row) => Math.abs(row[4] ?? 0) === 1 && Math.abs(row[5] ?? 0) === 1)).toBe(true);
    for (let a = 0; a < 6; a += 1) {
      for (let b = 0; b < 6; b += 1) for (let c = 0; c <= b; c += 1) expect(cross(rows, a, b, c)).toBe(0);
    }
    const judged = judge(layout.runs, factors, { model: "main", sigma: 1 });
    // Categories are never at a middle, so they tell more than six quantities in 14 runs: X′X = diag(14, 10, …, 10) there.
    expect(judged.efficiency.D).toBeGreaterThan((14 * 10 ** 6) ** (1 / 7) / 14);
  });

  test("of two factors is refused, with what to use", () => {
    expect(() => layOut({ factors: [feed, edge], layout: { kind: "definitive-screening" } })).toThrow(
      new LayoutError(
        'layout "definitive-screening": 2 factors; it takes 3 or more. With fewer, use "central-composite".',
      ),
    );
  });
});
