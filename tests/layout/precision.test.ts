import { describe, expect, test } from "vitest";
import { aliasMatrix, judge, layOut, precisionOver } from "../../src/layout/index.ts";
import { coded, edge } from "./factors.ts";

describe("precision over the region", () => {
  test("of a balanced two-level layout: (1 + Σ x²)/n, worst at the corners, G is 1", () => {
    const { runs } = layOut({ factors: coded(3), layout: { kind: "factorial" } });
    const precision = precisionOver(runs, coded(3), { model: "main", points: 4000 });
    expect(precision.worstCorner.variance).toBeCloseTo(4 / 8, 12);
    expect(precision.G).toBeCloseTo(1, 12);
    // Mean of 1 + Σ x² over the cube is 2; its spread is √(3 × 4/45) = 0.516, so 4000 points give it to 0.033 at four errors.
    expect(Math.abs(precision.average - 2 / 8)).toBeLessThan((4 * 0.516) / Math.sqrt(4000) / 8);
    expect([...precision.variances]).toEqual([...precision.variances].sort((a, b) => a - b));
  });

  test("agrees with the I of the judgement for a curved surface", () => {
    const { runs } = layOut({ factors: coded(2), layout: { kind: "central-composite" } });
    const precision = precisionOver(runs, coded(2), { model: "surface", points: 20_000 });
    const { efficiency } = judge(runs, coded(2), { model: "surface", sigma: 1 });
    // Σ of the moments of 1, x, y, xy, x², y² over the square: 1 + 2/3 + 1/9 + 2/5.
    expect(precision.average / ((1 + 2 / 3 + 1 / 9 + 2 / 5) / 13 / efficiency.I)).toBeCloseTo(1, 1);
  });

  test("averages over blocks and meets every combination of categories at the corners", () => {
    const factors = [...coded(2), edge];
    const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 2, blocks: 2 } });
    expect(precisionOver(runs, factors, { model: "main" }).worstCorner.variance).toBeCloseTo(4 / 16, 12);
  });
});

describe("the alias matrix", () => {
  test("of a half fraction gives a generated factor the whole product", () => {
    const { runs } = layOut({ factors: coded(4), layout: { kind: "fraction", generators: ["D = ABC"] } });
    expect(
      aliasMatrix(runs, coded(4), {
        model: "main",
        omitted: [
          { A: 1, B: 1, C: 1 },
          { A: 1, B: 1 },
        ],
      }),
    ).toEqual([{ label: "D", omitted: "A × B × C", share: expect.closeTo(1, 12) as number }]);
  });

  test("of 12 Plackett–Burman runs is the thirds that the layout prints", () => {
    const { runs, aliases } = layOut({ factors: coded(5), layout: { kind: "plackett-burman", runs: 12 } });
    const entries = aliasMatrix(runs, coded(5), { model: "main", omitted: [{ B: 1, C: 1 }] });
    for (const entry of entries) {
      expect(Math.abs(entry.share)).toBeCloseTo(1 / 3, 12);
      expect(aliases?.find((text) => text.startsWith(`${entry.label}:`))).toContain(
        `${entry.share < 0 ? "−" : "+"}0.333 BC`,
      );
    }
    expect(entries).toHaveLength(3);
  });
});
