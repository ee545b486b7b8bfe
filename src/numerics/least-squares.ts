import type { DesignColumn } from "./design-column.ts";
import { factorInOrder } from "./householder.ts";
import { refinedSolution } from "./refine.ts";
import { refinedFactor } from "./refined-inverse.ts";
import { inverseCross, leverageOf, sequentialSums } from "./refined-results.ts";
import { dependence, type Dependence } from "./dependence.ts";
import { fittedRows } from "./fitted-rows.ts";
import { requireProblem, scaledProblem } from "./scaled-problem.ts";

export interface LeastSquares {
  readonly rows: number;
  readonly columns: number;
  readonly rank: number;
  /** Rows of weight above 0, less the rank. */
  readonly df: number;
  /** Indices of the columns that carry coefficients, in the order given. A column that the earlier ones already span is not among them. */
  readonly kept: readonly number[];
  readonly dropped: readonly Dependence[];
  /** One per kept column. */
  readonly coefficients: Float64Array;
  /** For every row, of weight 0 too, on the response's own scale. */
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  /** Σ weight × residual². */
  readonly residualSumOfSquares: number;
  /** What `residualSumOfSquares` could be from rounding of the inputs to doubles alone; a sum not above it says nothing about scatter. */
  readonly roundingSumOfSquares: number;
  /** (XᵀWX)⁻¹ of the kept columns, rank × rank, row by row. */
  readonly inverseCross: Float64Array;
  /** Diagonal of X(XᵀWX)⁻¹XᵀW; 0 for rows of weight 0. */
  readonly leverage: Float64Array;
  /** The sum of squares that each kept column adds to those before it. */
  readonly sequential: Float64Array;
  /** Upper bound on the condition number of the kept columns brought to unit length: log₁₀ of it is the digits that plain arithmetic would lose. */
  readonly condition: number;
}

/** Default of `rankTolerance`; see `factorInOrder` for what it is measured against. It leaves four digits above rounding. */
export const defaultRankTolerance = 1e-12;

/**
 * Fits a response by a linear combination of columns, weights allowed.
 *
 * Use it for every model that is linear in its coefficients; use `refitter` when one matrix meets thousands of responses.
 * `columns` hold one entry a row (add a column of ones for an intercept; build powers and products with `powerColumn` and `productColumn`, which keep the
 * digits that a double loses). `weights` are inverse variances up to a factor; rows of weight 0 are predicted but not fitted.
 *
 * Columns that earlier ones span are left out and named in `dropped` with the combination that makes them up: a rank-deficient model is an answer.
 * Refused: non-finite entries, lengths that differ, negative weights, no row of weight above 0.
 *
 * Accuracy: as if computed in twice the working precision and rounded at the end, for coefficients, residuals, standard errors (through `inverseCross`) and sums of
 * squares, up to a condition number of about 1e11 after scaling; normal equations are never formed.
 * Source: Björck 1996, Numerical Methods for Least Squares Problems, 2.9; see `factorInOrder`, `refinedSolution`, `refinedFactor`.
 *
 * @example
 * const one = Float64Array.of(1, 1, 1, 1), x = Float64Array.of(1, 2, 3, 4);
 * leastSquares([{ high: one }, { high: x }], Float64Array.of(2, 4, 5, 8)).coefficients; // 0, 1.9
 */
export function leastSquares(
  columns: readonly DesignColumn[],
  response: Float64Array,
  options: { readonly weights?: Float64Array; readonly rankTolerance?: number } = {},
): LeastSquares {
  const { weights, rankTolerance = defaultRankTolerance } = options;
  requireProblem(columns, response, weights, rankTolerance);
  const problem = scaledProblem(columns, response, weights);
  const factor = factorInOrder(problem.matrix, rankTolerance);
  const solution = refinedSolution(problem.matrix, factor, problem.response);
  const refined = refinedFactor(problem.matrix, factor);
  const coefficients = solution.coefficients.high.map(
    (value, k) => (value * problem.columnScale[factor.kept[k]]) / problem.responseScale,
  );
  return {
    rows: response.length,
    columns: columns.length,
    rank: factor.rank,
    df: problem.matrix.rows - factor.rank,
    kept: factor.kept,
    dropped: factor.spanned.map((spanned) => dependence(problem, factor, spanned.column)),
    coefficients,
    ...fittedRows(columns, response, weights, problem, factor, solution),
    inverseCross: inverseCross(refined.inverse, factor, problem.columnScale),
    leverage: leverageOf(refined.orthonormal, factor.rank, problem.row, response.length),
    sequential: sequentialSums(refined, solution.coefficients, problem.responseScale),
    condition: factor.rank === 0 ? 1 : factor.inverseNorm * Math.sqrt(factor.rank),
  };
}
