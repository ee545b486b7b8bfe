// Variances of random sources by restricted likelihood, and what follows for fixed terms.
export { parentsWithin, type RandomSource } from "./random-source.ts";
export { reml, type RemlFit, type RemlRefused } from "./reml.ts";
export { mixedInference, type ContrastEstimate, type MixedInference } from "./mixed-inference.ts";
export type { JointTest, SmallSample } from "./small-sample.ts";
export { varianceRange, type VarianceRange } from "./variance-range.ts";
export { conditionalRows, type ConditionalRows } from "./conditional-rows.ts";
