import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, speed } from "./factors.ts";
import { information, solved, type Row } from "./plain-information.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "optimal", order: "as-listed", ...layout } });
const [x, y] = coded(2).map((factor, index) => ({ ...factor, name: ["x", "y"][index] }));
const sorted = (runs: readonly { readonly settings: Readonly<Record<string, unknown>> }[], name: string) =>
  runs.map((run) => Number(run.settings[name])).sort((one, other) => one - other);
const powers = (degree: number) => Array.from({ length: degree }, (_, index) => ({ x: index + 1 }));

describe("settings between the candidates", () => {
  // The D-optimal places of a polynomial of degree k are the zeros of (1 − x²)·P′ₖ(x), P the Legendre polynomials
  // (Hoel 1958; Guest 1958; from memory, and P′ is easily differentiated): k = 3 ±1, ±1/√5; k = 4 ±1, ±√(3/7), 0.
  test.each([
    { degree: 2, places: [-1, 0, 1] },
    { degree: 3, places: [-1, -Math.sqrt(1 / 5), Math.sqrt(1 / 5), 1] },
    { degree: 4, places: [-1, -Math.sqrt(3 / 7), 0, Math.sqrt(3 / 7), 1] },
  ])("are the published ones for a polynomial of degree $degree", ({ degree, places }) => {
    const { runs } = plan([x], { runs: degree + 1, terms: powers(degree) });
    // Settings are given to a ten-thousandth of the range.
    sorted(runs, "x").forEach((value, index) =>
      expect(Math.abs(value - (places[index] ?? 9))).toBeLessThan(2e-4),
    );
  });

  test("are steps of the machine where it has more of them than are tried first", () => {
    const { runs } = plan([{ ...x, increment: 0.002 }], { runs: 4, terms: powers(3) });
    // |X′X| at 0.446 and 0.448 by the plain formula: the nearer to 1/√5 = 0.4472 is 0.448.
    expect(sorted(runs, "x")).toEqual([-1, -0.448, 0.448, 1]);
  });

  test("keep to the factor's own scale", () => {
    const { runs } = plan([speed], { runs: 4, terms: [{ speed: 1 }, { speed: 2 }, { speed: 3 }] });
    // Middle √(800 · 1250) = 1000 and ratio √(1250/800) = 1.25 to the end; 1.25^(1/√5) = 1.10494.
    const [, low = 0, high = 0] = sorted(runs, "speed");
    expect(Math.abs(low - 1000 / 1.10494)).toBeLessThan(0.05);
    expect(Math.abs(high - 1000 * 1.10494)).toBeLessThan(0.05);
  });

  test("go to the border of a constraint and not past it", () => {
    const most = 0.1234567;
    const row = (a: number, b: number): Row => [1, a, b];
    // A determinant is largest at corners of what is allowed; three runs take three of the five.
    const corners = [
      [-1, -1],
      [1, -1],
      [1, most - 1],
      [most - 1, 1],
      [-1, 1],
    ];
    let best = 0;
    for (const a of corners)
      for (const b of corners)
        for (const c of corners)
          best = Math.max(
            best,
            solved(information([a, b, c].map(([one, other]) => row(one, other)))).determinant,
          );
    for (const written of [true, false]) {
      const { runs } = layOut(
        {
          factors: [x, y],
          layout: {
            kind: "optimal",
            runs: 3,
            terms: "main",
            ...(written ? { constraints: [{ sum: { x: 1, y: 1 }, atMost: most }] } : {}),
          },
        },
        written
          ? {}
          : { allow: [(settings) => (Number(settings.x) + Number(settings.y) > most ? "too much" : null)] },
      );
      for (const { settings } of runs)
        expect(Number(settings.x) + Number(settings.y)).toBeLessThanOrEqual(most + 1e-9);
      const found = solved(
        information(runs.map(({ settings }) => row(Number(settings.x), Number(settings.y)))),
      );
      expect(found.determinant / best).toBeGreaterThan(1 - 2e-4);
    }
  });

  test("may be what A asks for where the model is straight", () => {
    // Two straight factors, 5 runs: trace of (X′X)⁻¹ over the corners alone, and over every place.
    const row = (a: number, b: number): Row => [1, a, b];
    const trace = (rows: readonly Row[]) =>
      solved(information(rows)).inverse.reduce((sum, own, i) => sum + own[i], 0);
    const { runs } = plan([x, y], { runs: 5, terms: "main", criterion: "A" });
    const found = trace(runs.map(({ settings }) => row(Number(settings.x), Number(settings.y))));
    const corners = trace([row(-1, -1), row(-1, 1), row(1, -1), row(1, 1), row(1, 1)]);
    expect(found).toBeLessThanOrEqual(corners + 1e-9);
  });
});

describe("whole plots of published theory", () => {
  // Goos and Vandebroek (Technometrics 45, 2003, 235–245; from memory, and recomputed here): where columns of the easy factors
  // sum to 0 in each whole plot and all are at right angles, |X′V⁻¹X| is n^(terms of the runs) · (n/(1 + m·η))^(terms of the whole
  // plots), and no two-level layout has more.
  test.each([0.5, 1, 4])(
    "reach the bound of crossed two-level layouts, variance ratio %d",
    (varianceRatio) => {
      const w = { ...x, name: "w", change: "hard" as const };
      const factors = [w, x, y, { ...y, name: "z" }];
      const terms = [{ w: 1 }, { x: 1 }, { y: 1 }, { z: 1 }, { w: 1, x: 1 }, { w: 1, y: 1 }, { w: 1, z: 1 }];
      const layout = plan(factors, { runs: 16, wholePlots: 4, varianceRatio, terms });
      const rows = layout.runs.map(({ settings }): Row => {
        const [wholePlot, a, b, c] = factors.map((factor) => Number(settings[factor.name]));
        return [1, wholePlot, a, b, c, wholePlot * a, wholePlot * b, wholePlot * c];
      });
      const found = solved(
        information(
          rows,
          layout.runs.map((run) => run.wholePlot ?? 0),
          varianceRatio,
        ),
      ).determinant;
      const bound = 16 ** 6 * (16 / (1 + 4 * varianceRatio)) ** 2;
      expect(found / bound).toBeCloseTo(1, 9);
    },
  );
});
