import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import { coded, feed, speed } from "./factors.ts";

const plan = (factors: number, layout: Record<string, unknown> = {}) =>
  layOut({ factors: coded(factors), layout: { kind: "box-behnken", order: "as-listed", ...layout } });
const rowsOf = (factors: number, layout: Record<string, unknown> = {}) =>
  plan(factors, layout).runs.map((run) => coded(factors).map((factor) => Number(run.settings[factor.name])));

describe("a Box–Behnken layout", () => {
  // Run counts with published centre runs (Box and Behnken 1960): 15, 27, 46, 54, 62, 130, 170, 188, 204.
  test.each([
    [3, 15],
    [4, 27],
    [5, 46],
    [6, 54],
    [7, 62],
    [9, 130],
    [10, 170],
    [11, 188],
    [12, 204],
  ])("of %i factors has the published %i runs", (factors, runs) => {
    expect(rowsOf(factors)).toHaveLength(runs);
  });

  test.each([3, 4, 5, 6, 7, 8, 9, 10, 11, 12])(
    "of %i factors has clear main effects, every factor used alike, and every term of a surface",
    (factors) => {
      const rows = rowsOf(factors);
      const uses = new Set<number>();
      for (let one = 0; one < factors; one += 1) {
        uses.add(rows.reduce((sum, row) => sum + (row[one] ?? 0) ** 2, 0));
        for (let other = 0; other < one; other += 1) {
          expect(rows.reduce((sum, row) => sum + (row[one] ?? 0) * (row[other] ?? 0), 0)).toBe(0);
          expect(rows.some((row) => (row[one] ?? 0) * (row[other] ?? 0) !== 0)).toBe(true);
        }
      }
      expect(uses.size).toBe(1);
      expect(rows.every((row) => row.some((value) => value === 0))).toBe(true);
      const judged = judge(plan(factors).runs, coded(factors), { model: "surface", sigma: 1 });
      expect(judged.inseparable).toEqual([]);
    },
  );

  test.each([
    [4, 3],
    [5, 2],
    [6, 2],
    [7, 2],
    [9, 2],
  ])("of %i factors in %i blocks leaves every term alone", (factors, blocks) => {
    const layout = plan(factors, { blocks });
    const squares = (block: number) =>
      coded(factors).map((factor) => {
        const own = layout.runs.filter((run) => run.block === block && run.role === "edge");
        expect(own.reduce((sum, run) => sum + Number(run.settings[factor.name]), 0)).toBe(0);
        return own.reduce((sum, run) => sum + Number(run.settings[factor.name]) ** 2, 0);
      });
    for (let block = 2; block <= blocks; block += 1) expect(squares(block)).toEqual(squares(1));
    for (const one of coded(factors)) {
      for (const other of coded(factors)) {
        if (one.name >= other.name) continue;
        for (let block = 1; block <= blocks; block += 1) {
          const own = layout.runs.filter((run) => run.block === block);
          expect(
            own.reduce(
              (sum, run) => sum + Number(run.settings[one.name]) * Number(run.settings[other.name]),
              0,
            ),
          ).toBe(0);
        }
      }
    }
  });

  test("refuses blocks that it does not have, with those that it has", () => {
    expect(() => plan(3, { blocks: 2 })).toThrow(
      "layout.blocks: a Box–Behnken layout of 3 factors can't be cut into 2 blocks that leave its effects alone. Take 1, or as many replicates as blocks.",
    );
    expect(() => layOut({ factors: [feed, speed], layout: { kind: "box-behnken" } })).toThrow(
      'layout "box-behnken": 2 quantities; it takes 3 to 12. With fewer, use "central-composite".',
    );
  });

  test("of four factors in three blocks is the published one, block by block, and gives its coefficients", () => {
    const { runs, columns } = JSON.parse(
      readFileSync(new URL("../fixtures/layouts/box-behnken-four.json", import.meta.url), "utf8"),
    ) as { runs: number[][]; columns: string[] };
    const published = new Set(runs.map((row) => row.slice(1, 5).join()));
    const blockSets = (list: readonly { block: number; key: string }[]) =>
      [1, 2, 3]
        .map((block) =>
          list
            .filter((run) => run.block === block)
            .map((run) => run.key)
            .sort()
            .join(" "),
        )
        .sort();
    const own = plan(4, { blocks: 3 }).runs.map((run) => ({
      block: run.block,
      key: coded(4)
        .map((factor) => String(run.settings[factor.name]))
        .join(),
    }));
    expect(new Set(own.map((run) => run.key))).toEqual(published);
    expect(blockSets(own)).toEqual(
      blockSets(runs.map((row) => ({ block: row[0] ?? 0, key: row.slice(1, 5).join() }))),
    );
    const table = columns.map((name, place) => ({
      name,
      unit: name.startsWith("x") ? "coded" : "",
      values: runs.map((row) => row[place] ?? 0),
    }));
    const fit = fitLinear(
      observeTable(
        { columns: table },
        { response: "response", factors: ["x1", "x2", "x3", "x4"], block: "block" },
      ),
      { model: "surface" },
    );
    const estimate = (label: string) =>
      fit.coefficients.find((coefficient) => coefficient.label === label)?.estimate ?? 0;
    // Printed to two decimals.
    expect(estimate("x1")).toBeCloseTo(1.93, 2);
    expect(estimate("x4")).toBeCloseTo(-3.68, 1);
    expect(estimate("x3 × x4")).toBeCloseTo(-4.25, 2);
    expect(estimate("x2²")).toBeCloseTo(-4.33, 2);
  });
});
