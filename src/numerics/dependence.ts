import type { OrthogonalFactor } from "./householder.ts";
import { refinedSolution } from "./refine.ts";
import type { ScaledProblem } from "./scaled-problem.ts";

/** A column that those kept before it span: it equals the sum of coefficient × kept column. */
export interface Dependence {
  readonly column: number;
  readonly on: readonly { readonly column: number; readonly coefficient: number }[];
}

/** Multiples that are nothing but rounding of the larger ones, after scaling, are not told. */
const negligible = 1e-10;

/** The combination of kept columns that makes up a dropped one, refined like a response so that a plain sum reads as ones. */
export function dependence(problem: ScaledProblem, factor: OrthogonalFactor, column: number): Dependence {
  const { matrix, columnScale } = problem;
  const { rows, entries, low } = matrix;
  const response = {
    high: entries.slice(column * rows, (column + 1) * rows),
    low: low?.slice(column * rows, (column + 1) * rows) ?? new Float64Array(rows),
  };
  const before = factor.kept.filter((kept) => kept < column).length;
  const { coefficients } = refinedSolution(matrix, factor, response);
  const on = factor.kept
    .slice(0, before)
    .map((kept, k) => ({ column: kept, scaled: coefficients.high[k] }))
    .filter(({ scaled }) => Math.abs(scaled) > negligible)
    .map(({ column: kept, scaled }) => ({
      column: kept,
      coefficient: (scaled * columnScale[kept]) / columnScale[column],
    }));
  return { column, on };
}
