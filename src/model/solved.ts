import type { LeastSquares, MixedInference } from "../numerics/index.ts";
import type { BasisChange } from "./basis-change.ts";
import type { Design } from "./design.ts";
import type { Observations } from "./observations.ts";

/** A least squares fit with what it was made from: where every part of a `Fit` is told from. */
export interface Solved {
  readonly observations: Observations;
  readonly design: Design;
  readonly change: BasisChange;
  readonly solution: LeastSquares;
  /** What was fitted: the rows' values, or their logarithms. */
  readonly response: Float64Array;
  /** Largest entry of each column that was left out, in the order of `solution.dropped`: what a difference is small beside. */
  readonly droppedSize: readonly number[];
  readonly weights: Float64Array | undefined;
  /** True where blocks have columns of their own. */
  readonly blocked: boolean;
  readonly logScale: boolean;
  readonly confidence: number;
  /** Standard errors to either side of an estimate at that confidence, by Student's t; 0 without degrees of freedom. */
  readonly reach: number;
  /** How a mixed fit judges its coefficients, each combination on degrees of freedom of its own; left out by least squares. */
  readonly mixed?: MixedInference;
  /** Variance of one row (of weight 1); null without degrees of freedom, 0 where the rows are met exactly. */
  readonly variance: number | null;
}

/** The residual mean square; rounding alone is not scatter. */
export function residualVariance(solution: LeastSquares): number | null {
  if (solution.df === 0) return null;
  return solution.residualSumOfSquares <= solution.roundingSumOfSquares
    ? 0
    : solution.residualSumOfSquares / solution.df;
}
