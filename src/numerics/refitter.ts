import type { DesignColumn } from "./design-column.ts";
import { numericsError } from "./error.ts";
import { factorInOrder } from "./householder.ts";
import { defaultRankTolerance } from "./least-squares.ts";
import { refinedFactor } from "./refined-inverse.ts";
import { requireProblem, scaledProblem } from "./scaled-problem.ts";
import { addMultiple, dot } from "./vector.ts";

export interface Refit {
  /** One per kept column. */
  readonly coefficients: Float64Array;
  /** Σ weight × residual². */
  readonly residualSumOfSquares: number;
}

/** One matrix, factored once, that meets many responses. */
export interface Refitter {
  readonly rank: number;
  readonly df: number;
  /** Columns that carry coefficients, as `leastSquares` keeps them. */
  readonly kept: readonly number[];
  /** Fits another response, for resampled residuals and permutations. Each call returns arrays of its own. */
  readonly refit: (response: Float64Array) => Refit;
  /**
   * Fits a response with other weights, 0 and more, on top of those given at the start: for resampled rows, how often each was drawn. Undefined where these
   * weights leave columns that can't be told apart.
   */
  readonly reweigh: (response: Float64Array, weights: Float64Array) => Refit | undefined;
}

/**
 * Prepares thousands of refits of one matrix (bootstrap, permutation, simulation): about rows × rank multiplications each, against rows × rank² for a fit from nothing.
 * Shapes, refusals and rank decisions are those of `leastSquares`; responses are checked for length only.
 *
 * Accuracy: coefficients lose log₁₀ of the condition number from 16 digits (no refinement by response). `reweigh` solves in the orthonormal columns of the first
 * factorisation, so that its cross products are conditioned by the new weights alone.
 *
 * @example
 * const refitter = refitter([{ high: Float64Array.of(1, 1, 1) }]);
 * refitter.refit(Float64Array.of(1, 2, 6)).coefficients; // 3
 */
export function refitter(
  columns: readonly DesignColumn[],
  options: { readonly weights?: Float64Array; readonly rankTolerance?: number } = {},
): Refitter {
  const { weights, rankTolerance = defaultRankTolerance } = options;
  const rows = columns.at(0)?.high.length ?? 0;
  const blank = new Float64Array(rows);
  requireProblem(columns, blank, weights, rankTolerance);
  const problem = scaledProblem(columns, blank, weights);
  const factor = factorInOrder(problem.matrix, rankTolerance);
  const { inverse, orthonormal } = refinedFactor(problem.matrix, factor);
  const { row, rootWeight, columnScale } = problem;
  const { rank, kept } = factor;
  const used = row.length;
  const rest = new Float64Array(used);
  const along = new Float64Array(rank);
  const weighted = new Float64Array(used);
  const cross = new Float64Array(rank * rank);

  const load = (response: Float64Array): void => {
    if (response.length !== rows) throw numericsError(`a response of ${response.length} entries`, `${rows}`);
    for (let i = 0; i < used; i++) rest[i] = response[row[i]];
    if (rootWeight !== undefined) for (let i = 0; i < used; i++) rest[i] *= rootWeight.high[i];
  };
  /** R⁻¹ applied to what stands in `along`. */
  const coefficientsAlong = (): Float64Array => {
    const coefficients = new Float64Array(rank);
    for (let k = 0; k < rank; k++) addMultiple(coefficients, 0, along[k], inverse, k * rank, k + 1);
    for (let k = 0; k < rank; k++) coefficients[k] *= columnScale[kept[k]];
    return coefficients;
  };

  return {
    rank,
    df: used - rank,
    kept,
    refit: (response) => {
      load(response);
      for (let k = 0; k < rank; k++) {
        // Taken out at once, so that each later column meets the remainder only (modified Gram and Schmidt).
        along[k] = dot(orthonormal, k * used, rest, 0, used);
        addMultiple(rest, 0, -along[k], orthonormal, k * used, used);
      }
      return { coefficients: coefficientsAlong(), residualSumOfSquares: dot(rest, 0, rest, 0, used) };
    },
    reweigh: (response, drawn) => {
      load(response);
      if (drawn.length !== rows) throw numericsError(`${drawn.length} weights`, `${rows}, one a row`);
      for (let k = 0; k < rank; k++) {
        for (let i = 0; i < used; i++) weighted[i] = orthonormal[k * used + i] * drawn[row[i]];
        for (let j = 0; j <= k; j++) cross[k * rank + j] = dot(weighted, 0, orthonormal, j * used, used);
        along[k] = dot(weighted, 0, rest, 0, used);
      }
      if (!solveCross(cross, along, rank)) return undefined;
      for (let k = 0; k < rank; k++) addMultiple(rest, 0, -along[k], orthonormal, k * used, used);
      let sum = 0;
      for (let i = 0; i < used; i++) sum += drawn[row[i]] * rest[i] * rest[i];
      return { coefficients: coefficientsAlong(), residualSumOfSquares: sum };
    },
  };
}

/** A column of which the new weights leave less than this share (of its weighted square) beside the columns before it counts as lost. */
const leastPivot = 1e-10;

/** Cholesky's factor and both substitutions, in place; rows of the upper half given as cross[k·rank + j], j ≤ k. False where rank is lost. */
function solveCross(cross: Float64Array, vector: Float64Array, rank: number): boolean {
  for (let k = 0; k < rank; k++) {
    const diagonal = cross[k * rank + k];
    for (let j = 0; j <= k; j++) {
      const rest = cross[k * rank + j] - dot(cross, k * rank, cross, j * rank, j);
      if (j < k) cross[k * rank + j] = rest / cross[j * rank + j];
      else if (!(rest > leastPivot * diagonal)) return false;
      else cross[k * rank + k] = Math.sqrt(rest);
    }
    vector[k] = (vector[k] - dot(cross, k * rank, vector, 0, k)) / cross[k * rank + k];
  }
  for (let k = rank - 1; k >= 0; k--) {
    vector[k] /= cross[k * rank + k];
    addMultiple(vector, 0, -vector[k], cross, k * rank, k);
  }
  return true;
}
