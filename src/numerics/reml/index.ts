// Variances of random sources by restricted likelihood, and what follows for fixed terms.
export { parentsWithin, type RandomSource } from "./random-source.ts";
export { reml, type RemlFit, type RemlRefused } from "./reml.ts";
export { mixedInference, type ContrastEstimate, type MixedInference } from "./mixed-inference.ts";
export type { JointTest, SmallSample } from "./small-sample.ts";
export { profileRange, type ProfileRange } from "./profile.ts";
export { levelEffects, type LevelEffects } from "./level-effects.ts";
