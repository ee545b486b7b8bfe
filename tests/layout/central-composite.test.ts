import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, edge, feed, speed } from "./factors.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "central-composite", order: "as-listed", ...layout } });
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const column = (layout: ReturnType<typeof plan>, name: string, block?: number) =>
  layout.runs
    .filter((run) => block === undefined || run.block === block)
    .map((run) => Number(run.settings[name]));
const refusal = (factors: readonly Factor[], layout: Record<string, unknown>) => {
  try {
    plan(factors, layout);
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};

describe("a central composite layout", () => {
  // NIST/SEMATECH e-Handbook 5.3.3.6.1: axial distance is the corner runs to the power ¼, printed to 3 decimals.
  test.each([
    [2, "full", 1.414],
    [3, "full", 1.682],
    [4, "full", 2.0],
    [5, 16, 2.0],
    [5, "full", 2.378],
    [6, 32, 2.378],
    [6, "full", 2.828],
  ])("of %i factors, cube %s, is rotatable with axial runs at %d", (factors, cube, distance) => {
    const layout = plan(coded(factors), { cube });
    const axial = layout.runs
      .filter((run) => run.role === "axial")
      .map((run) => Math.max(...Object.values(run.settings).map(Number)));
    expect(Math.max(...axial)).toBeCloseTo(distance, 3);
    // Rotatable: Σ x⁴ = 3 Σ x²y² for every pair (Box and Hunter 1957), counted from the runs.
    for (const one of coded(factors)) {
      for (const other of coded(factors)) {
        if (one.name >= other.name) continue;
        const [x, y] = [column(layout, one.name), column(layout, other.name)];
        const fourth = sum(x.map((value) => value ** 4));
        const mixed = sum(x.map((value, run) => value ** 2 * (y[run] ?? 0) ** 2));
        expect(fourth / (3 * mixed)).toBeCloseTo(1, 9); // settings keep 12 figures
      }
    }
  });

  // Montgomery, example 11.2: two factors, four corners, axial runs at 1.414, five centre runs.
  test("of two factors is the layout of the book, 13 runs", () => {
    const layout = plan(coded(2), {});
    expect(layout.runs.map((run) => run.role)).toEqual([
      ...new Array<string>(4).fill("corner"),
      ...new Array<string>(4).fill("axial"),
      ...new Array<string>(5).fill("centre"),
    ]);
    const judged = judge(layout.runs, coded(2), { model: "surface", sigma: 1 });
    expect(judged.df).toBe(7);
    expect(judged.dfPureError).toBe(4);
    // Printed there: standard errors of coefficients are s/√8 for lines and s/2 for the product.
    expect(judged.terms[0]?.standardError).toBeCloseTo(1 / Math.sqrt(8), 9);
    expect(judged.terms[2]?.standardError).toBeCloseTo(1 / 2, 9);
  });

  test.each([
    [2, 2, 6],
    [3, 2, 4],
    [3, 3, 6],
    [4, 3, 6],
    [5, 3, 9],
  ])(
    "of %i factors in %i blocks with %i centre runs keeps blocks orthogonal",
    (factors, blocks, centrePoints) => {
      const layout = plan(coded(factors), { blocks, centrePoints, axial: "block-orthogonal" });
      const all = layout.runs.length;
      for (let block = 1; block <= blocks; block += 1) {
        const own = layout.runs.filter((run) => run.block === block).length;
        for (const one of coded(factors)) {
          expect(sum(column(layout, one.name, block))).toBeCloseTo(0, 9);
          const within = sum(column(layout, one.name, block).map((value) => value ** 2)) / own;
          expect(within).toBeCloseTo(sum(column(layout, one.name).map((value) => value ** 2)) / all, 9);
          for (const other of coded(factors)) {
            if (other.name <= one.name) continue;
            const y = column(layout, other.name, block);
            expect(
              sum(column(layout, one.name, block).map((value, run) => value * (y[run] ?? 0))),
            ).toBeCloseTo(0, 9);
          }
        }
      }
    },
  );

  test("face-centred stays within low and high; spherical reaches as far as the corners", () => {
    expect(Math.max(...column(plan(coded(3), { axial: "face" }), "A"))).toBe(1);
    expect(Math.max(...column(plan(coded(3), { axial: "spherical" }), "A"))).toBeCloseTo(Math.sqrt(3), 10);
    expect(Math.max(...column(plan(coded(3), { axial: 1.5 }), "A"))).toBe(1.5);
  });

  test("inscribed puts the axial runs at low and high and draws the corners in", () => {
    const layout = plan(coded(2), { range: "axial" });
    expect([...new Set(column(layout, "A").map((value) => value.toFixed(4)))].sort()).toEqual([
      "-0.7071",
      "-1.0000",
      "0.0000",
      "0.7071",
      "1.0000",
    ]);
    expect(layout.notes[0]).toBe(
      "Axial runs stand at low and high (rotatable); the corners are drawn in to 0.7071 of the half range.",
    );
  });

  test("with a category is cut whole at each level", () => {
    const layout = plan([feed, speed, edge], { axial: "face", centrePoints: 2 });
    expect(layout.runs).toHaveLength(20);
    expect(layout.runs.filter((run) => run.settings.edge === "used")).toHaveLength(10);
  });
});

describe("what a central composite layout refuses", () => {
  test("a cube whose products of two factors would be aliased, with the runs that work", () => {
    expect(refusal(coded(4), { cube: 8 })).toBe(
      "layout.cube: 8 corners of 4 factors have resolution 4; a surface needs 5, so that products of two factors stand apart. Take 16.",
    );
  });
  test("axial runs below zero", () => {
    expect(refusal([{ ...feed, low: 0.04, high: 0.3 }, speed], {})).toMatch(
      /^layout\.axial: at 1\.414 times the half range feed would be -0\.0138\d+ mm\/rev\. Take "axial": "face", "range": "axial", or a logarithmic scale for feed\.$/,
    );
  });
  test("one quantity", () => {
    expect(refusal([feed, edge], {})).toBe(
      'layout "central-composite": 1 quantity; it takes two or more. With one, use "factorial" with three or more levels of it.',
    );
  });
  test("blocks that would confound products of two factors", () => {
    expect(refusal(coded(2), { blocks: 3 })).toBe(
      "layout.blocks: the corners of 2 factors can't be dealt to 2 blocks without confounding products of two factors. Take 2 (one block is for the axial runs).",
    );
  });
});
