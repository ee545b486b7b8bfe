import { applied, inferenceAt, multiplied } from "./inference.ts";
import { choleskyFactor, choleskyInverse } from "./small-symmetric.ts";
import type { RemlFit } from "./reml.ts";
import {
  adjustedCovariance,
  kenwardRogerTest,
  satterthwaiteTest,
  spreadOf,
  type JointTest,
  type SmallSample,
} from "./small-sample.ts";

/** An estimate with its standard error and the degrees of freedom that it is known on. */
export interface ContrastEstimate {
  readonly estimate: number;
  readonly standardError: number;
  readonly df: number;
}

/** What a mixed fit says of its fixed coefficients; contrasts are multiples of the kept columns' coefficients. */
export interface MixedInference {
  /** Generalised least squares, one for each kept column. */
  readonly coefficients: Float64Array;
  /** Their covariance (adjusted, by Kenward and Roger's method), row by row. */
  readonly covariance: Float64Array;
  /** Covariance of the variances, row by row, sources in order and the residual last. */
  readonly ofVariances: Float64Array;
  /** Variance of each source, in order, the residual last. */
  readonly variances: Float64Array;
  /** Covariance of the coefficients as degrees of freedom take it: without Kenward and Roger's addition. */
  readonly plainCovariance: Float64Array;
  /** How that covariance changes with each variance, row by row: x′Sx is the slope of the variance of the combination x. */
  readonly slopes: readonly Float64Array[];
  /** True where `ofVariances` is from the observed information; by the expected one where a variance is zero, or by Kenward and Roger. */
  readonly byObserved: boolean;
  /** One combination; `fresh` adds the variances of these sources, for something that is yet to be drawn from them. */
  readonly contrast: (
    multiples: Float64Array,
    options?: { readonly fresh?: readonly number[] },
  ) => ContrastEstimate;
  /** F test that independent combinations are all zero; null where they are not independent. */
  readonly joint: (multiples: readonly Float64Array[]) => JointTest | null;
  /** F test of what the kept columns at these positions add to all that stand before the first of them. */
  readonly sequential: (positions: readonly number[]) => JointTest | null;
}

/**
 * Small-sample inference for the fixed coefficients of a mixed model: standard errors with degrees of freedom by Satterthwaite's method, or covariance,
 * degrees of freedom and scaled F by Kenward and Roger's. In balanced layouts both give the exact t and F of the analysis of variance by strata.
 *
 * Example: for parts 1, 3 and 5, 7 the mean is 4 with standard error √(16/4) = 2 on 1 degree of freedom.
 */
export function mixedInference(fit: RemlFit, method: SmallSample = "satterthwaite"): MixedInference {
  const { system, basis, at, scale, plain } = fit;
  const { rank } = plain;
  const inference = inferenceAt(system, at);
  const adjusted = method === "kenward-roger" ? adjustedCovariance(inference, rank) : null;
  const shift = basis.coefficients(inference.shift);
  const coefficients = plain.coefficients.map((value, k) => value + scale * shift[k]);
  const inUse = adjusted ?? inference.covariance;
  const inColumns = (matrix: Float64Array, by: number): Float64Array => {
    const out = new Float64Array(rank * rank);
    for (let j = 0; j < rank; j++) {
      const unit = new Float64Array(rank);
      unit[j] = 1;
      const column = basis.coefficients(applied(matrix, basis.contrast(unit)));
      for (let i = 0; i < rank; i++) out[i * rank + j] = column[i] * by;
    }
    return out;
  };
  const covariance = inColumns(inUse, scale * scale);
  const estimateOf = (multiples: Float64Array): number =>
    multiples.reduce((total, multiple, k) => total + multiple * coefficients[k], 0);
  const joint = (
    directions: readonly Float64Array[],
    multiples: readonly Float64Array[],
  ): JointTest | null => {
    const estimates = Float64Array.from(multiples, (one) => estimateOf(one) / scale);
    return adjusted === null
      ? satterthwaiteTest(inference, at.variances, directions, estimates)
      : kenwardRogerTest(inference, directions, estimates, adjusted);
  };
  return {
    coefficients,
    covariance,
    ofVariances: (adjusted === null ? inference.ofVariances : inference.ofVariancesExpected).map(
      (value) => value * scale ** 4,
    ),
    byObserved: adjusted === null && inference.byObserved,
    variances: at.variances.map((value) => value * scale ** 2),
    plainCovariance: inColumns(inference.covariance, scale * scale),
    slopes: inference.first.map((matrix) =>
      inColumns(multiplied(multiplied(inference.covariance, matrix, rank), inference.covariance, rank), -1),
    ),
    contrast(multiples, { fresh = [] } = {}) {
      const { variance, df } = spreadOf(inference, at.variances, basis.contrast(multiples), {
        fresh,
        adjusted,
      });
      return { estimate: estimateOf(multiples), standardError: scale * Math.sqrt(variance), df };
    },
    joint: (multiples) =>
      joint(
        multiples.map((one) => basis.contrast(one)),
        multiples,
      ),
    sequential(positions) {
      // With QᵀV⁻¹Q = RᵀR, row k of R is what column k adds to those before it. Directions are combinations of earlier columns only, so order is kept.
      const lower = choleskyFactor(
        choleskyInverse(choleskyFactor(inference.covariance, rank, 0)!, rank),
        rank,
        0,
      )!;
      const directions = positions.map((k) =>
        Float64Array.from({ length: rank }, (_, c) => (c < k ? 0 : lower[c * rank + k])),
      );
      return joint(
        directions,
        directions.map((one) => basis.multiples(one)),
      );
    },
  };
}
