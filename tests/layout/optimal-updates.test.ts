import { describe, expect, test } from "vitest";
import { seededRandom } from "../../src/numerics/index.ts";
import { contextOf } from "../../src/layout/lay-out.ts";
import { readOptions } from "../../src/layout/common-options.ts";
import { emptyState, loadPoints, refresh } from "../../src/layout/optimal/design-state.ts";
import { drawing } from "../../src/layout/optimal/draw.ts";
import { optimalSchema } from "../../src/layout/optimal/options.ts";
import { plotExchange } from "../../src/layout/optimal/plot-exchange.ts";
import { optimalProblem } from "../../src/layout/optimal/problem.ts";
import { runExchange } from "../../src/layout/optimal/run-exchange.ts";
import { emptyPoints } from "../../src/layout/optimal/search.ts";
import { coded, coolant, edge } from "./factors.ts";

const factors = [
  ...coded(3),
  { ...coolant, change: "hard" as const },
  { ...coded(4)[3], change: "hard" as const },
  edge,
];

/** Inverse and determinant by Gauss and Jordan, as plain as can be. */
function inverted(matrix: readonly (readonly number[])[]): { inverse: number[][]; log: number } {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let log = 0;
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column; row < size; row += 1)
      if (Math.abs(rows[row][column]) > Math.abs(rows[pivot][column])) pivot = row;
    [rows[column], rows[pivot]] = [rows[pivot], rows[column]];
    const lead = rows[column][column];
    log += Math.log(Math.abs(lead));
    rows[column] = rows[column].map((value) => value / lead);
    for (let row = 0; row < size; row += 1) {
      const share = rows[row][column];
      if (row !== column) rows[row] = rows[row].map((value, k) => value - share * rows[column][k]);
    }
  }
  return { inverse: rows.map((row) => row.slice(size)), log };
}

const cases = (["D", "I", "A"] as const).flatMap((criterion) =>
  [0, 0.3, 1, 10].map((varianceRatio) => ({ criterion, varianceRatio })),
);

describe("rank updates of the information", () => {
  test.each(cases)(
    "by $criterion with a variance ratio of $varianceRatio equal the information computed from X′V⁻¹X",
    ({ criterion, varianceRatio }) => {
      const options = readOptions("optimal", optimalSchema, {
        kind: "optimal",
        terms: "surface",
        criterion,
        runs: 47,
        wholePlots: 15,
        blocks: 3,
        varianceRatio,
      });
      const { model, request } = optimalProblem(
        factors,
        options,
        contextOf({ factors, layout: { kind: "optimal" } }, []),
      );
      const { plan } = request;
      const { plots } = plan;
      if (!plots) throw new Error("no whole plots");
      const state = emptyState(model, plan);
      const points = emptyPoints(plan.runs * factors.length);
      drawing(model, plan, undefined, () => null).all(points, seededRandom(5));
      loadPoints(state, points);
      expect(refresh(state, 0)).toBe(true);
      const runs = runExchange(state, undefined);
      const whole = plotExchange(state, plots, varianceRatio, undefined);
      const before = criterion === "D" ? state.logDeterminant : -state.trace;
      let moves = 0;
      for (let plot = 0; plot < plots.count; plot += 2) if (whole.improve(plot, plot % 4 === 0)) moves += 1;
      for (let run = 0; run < plan.runs; run += 1) if (runs.improve(run, run % 2 === 0)) moves += 1;
      for (let plot = 0; plot < plots.count; plot += 1) if (whole.improve(plot, false)) moves += 1;
      expect(moves).toBeGreaterThan(20);
      // The second road: V written out run by run, inverted, and X′V⁻¹X inverted.
      const size = model.columnCount;
      const x = Array.from({ length: plan.runs }, (_, run) => [
        ...state.rows.subarray(run * size, (run + 1) * size),
      ]);
      const v = x.map((_, one) =>
        x.map(
          (_unused, other) =>
            (one === other ? 1 : 0) + (plots.of[one] === plots.of[other] ? varianceRatio : 0),
        ),
      );
      const { inverse: weights } = inverted(v);
      const information = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (_unused, j) =>
          x.reduce(
            (sum, row, one) =>
              sum + x.reduce((inner, other, k) => inner + row[i] * weights[one][k] * other[j], 0),
            0,
          ),
        ),
      );
      const { inverse, log } = inverted(information);
      expect(state.logDeterminant).toBeCloseTo(log, 7);
      for (let i = 0; i < size; i += 1)
        for (let j = 0; j < size; j += 1) expect(state.inverse[i * size + j]).toBeCloseTo(inverse[i][j], 7);
      if (!state.moments) {
        expect(state.logDeterminant).toBeGreaterThan(before + 1);
        return;
      }
      const { moments } = state;
      const product = (a: number[][], b: number[][]) =>
        a.map((row) => b[0].map((_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)));
      const square = Array.from({ length: size }, (_, i) => [...moments.subarray(i * size, (i + 1) * size)]);
      const weighted = product(product(inverse, square), inverse);
      const trace = product(square, inverse).reduce((sum, row, i) => sum + row[i], 0);
      expect(state.trace).toBeCloseTo(trace, 6);
      for (let i = 0; i < size; i += 1)
        for (let j = 0; j < size; j += 1) expect(state.weighted[i * size + j]).toBeCloseTo(weighted[i][j], 6);
      expect(-state.trace).toBeGreaterThan(before);
    },
  );
});
