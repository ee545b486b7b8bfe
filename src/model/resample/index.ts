export { bootstrap, bootstrapInWorkers } from "./bootstrap.ts";
export type { Bootstrap, BootstrapFigure, BootstrapOptions } from "./bootstrap.ts";
export { permutationTest, permutationTestInWorkers } from "./permutation.ts";
export type { Permutation, PermutationOptions } from "./permutation.ts";
export type { WorkOptions } from "./work-options.ts";
export { effectsWithoutRun, mostInfluential } from "./influence.ts";
export type { EffectWithout, MostInfluential } from "./influence.ts";
export {
  leftInResiduals,
  levelsLeftInResiduals,
  type LeftInResiduals,
  type LevelsInResiduals,
} from "./left-in-residuals.ts";
