export { NumericsError } from "./error.ts";

export {
  addExactly,
  divideExactly,
  multiplyExactly,
  negate,
  squareRootExactly,
  twoProduct,
  twoSum,
  type DoubleDouble,
} from "./double-double.ts";

export { dotProduct } from "./dot-product.ts";
export { extent } from "./extent.ts";
export { dotExactly, sumExactly } from "./exact-sum.ts";
export { autocorrelation, mean, standardDeviation, sumOfSquaredDeviations, variance } from "./moments.ts";

export { powerColumn, productColumn, type DesignColumn } from "./design-column.ts";
export type { Dependence } from "./dependence.ts";
export { defaultRankTolerance, leastSquares, type LeastSquares } from "./least-squares.ts";

export {
  constrainedLeastSquares,
  type ConstrainedLeastSquares,
  type LinearConstraint,
} from "./constrained-least-squares.ts";

export { refitter, type Refit, type Refitter } from "./refitter.ts";

export { normalCdf, normalDensity, normalQuantile, normalTail, normalUpperQuantile } from "./normal.ts";
export { tCdf, tQuantile, tTail, tTwoSided, tUpperQuantile } from "./student.ts";
export { fCdf, fQuantile, fTail, fUpperQuantile } from "./f-ratio.ts";
export { chiSquareCdf, chiSquareQuantile, chiSquareTail, chiSquareUpperQuantile } from "./chi-square.ts";
export { betaCdf, betaQuantile, betaTail } from "./beta.ts";

export { nonCentralTCdf, nonCentralTQuantile, nonCentralTTail } from "./noncentral-t.ts";
export { nonCentralFCdf, nonCentralFTail } from "./noncentral-f.ts";
export {
  studentisedRangeCdf,
  studentisedRangeQuantile,
  studentisedRangeTail,
  studentisedRangeUpperQuantile,
} from "./studentised-range.ts";
export { manyToOneTail, manyToOneUpperQuantile, type ManyToOne } from "./many-to-one.ts";
export { lazyCubic, lazyCubics } from "./lazy-cubic.ts";
export { nextPartsFactor, nextPartsFactors, nextPartsTail, type NextParts } from "./next-parts.ts";
export { toleranceFactor } from "./tolerance-factor.ts";

export { brentRoot } from "./brent-root.ts";
export { brentMinimum, type Minimum } from "./brent-minimum.ts";
export { integrate, type Integral } from "./adaptive-quadrature.ts";

export { seededRandom, type SeededRandom } from "./seeded-random.ts";
export { startThread } from "./start-thread.ts";
export { blocksInWorkers, blockWorker, type BlockOptions } from "./blocks-in-workers.ts";

export {
  convergedOffset,
  nonlinearLeastSquares,
  type NonlinearFit,
  type NonlinearOptions,
  type NonlinearOutcome,
} from "./nonlinear-least-squares.ts";
export type { NonlinearModel } from "./nonlinear-model.ts";
export { symmetricEigen, type SymmetricEigen } from "./symmetric-eigen.ts";

export {
  conditionalRows,
  mixedInference,
  parentsWithin,
  reml,
  varianceRange,
  type ConditionalRows,
  type ContrastEstimate,
  type JointTest,
  type MixedInference,
  type RandomSource,
  type RemlFit,
  type RemlRefused,
  type SmallSample,
  type VarianceRange,
} from "./reml/index.ts";
