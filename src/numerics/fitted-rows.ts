import type { DesignColumn } from "./design-column.ts";
import type { OrthogonalFactor } from "./householder.ts";
import type { RefinedSolution } from "./refine.ts";
import type { ScaledProblem } from "./scaled-problem.ts";
import { preciseVector, subtractColumn } from "./precise-products.ts";

interface FittedRows {
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  readonly residualSumOfSquares: number;
  readonly roundingSumOfSquares: number;
}

/** Residuals and fitted values of every row, on the response's own scale. */
export function fittedRows(
  columns: readonly DesignColumn[],
  response: Float64Array,
  weights: Float64Array | undefined,
  problem: ScaledProblem,
  factor: OrthogonalFactor,
  solution: RefinedSolution,
): FittedRows {
  const { row, rootWeight, responseScale, columnScale } = problem;
  const residuals = new Float64Array(response.length);
  let sum = 0;
  let lost = 0;
  let rounding = 0;
  for (let i = 0; i < row.length; i++) {
    const weighted = (solution.residuals.high[i] + solution.residuals.low[i]) / responseScale;
    residuals[row[i]] = rootWeight === undefined ? weighted : weighted / rootWeight.high[i];
    const square = weighted * weighted;
    const after = sum + square;
    lost += square - (after - sum);
    sum = after;
    rounding += (weights?.[row[i]] ?? 1) * (response[row[i]] * 2 ** -53) ** 2;
  }
  const left = weights === undefined ? [] : [...response.keys()].filter((i) => weights[i] === 0);
  if (left.length > 0) {
    const rest = { high: Float64Array.from(left, (i) => response[i]), low: preciseVector(left.length).low };
    factor.kept.forEach((column, k) => {
      const scale = columnScale[column] / responseScale;
      const entries = Float64Array.from(left, (i) => columns[column].high[i]);
      const low = Float64Array.from(left, (i) => columns[column].low?.[i] ?? 0);
      const part = { rows: left.length, columns: 1, entries, low };
      const { high: a, low: b } = solution.coefficients;
      subtractColumn(rest, part, 0, a[k] * scale, b[k] * scale);
    });
    left.forEach((i, at) => {
      residuals[i] = rest.high[at] + rest.low[at];
    });
  }
  return {
    fitted: response.map((value, i) => value - residuals[i]),
    residuals,
    residualSumOfSquares: sum + lost,
    roundingSumOfSquares: rounding,
  };
}
