// Screening: which of many terms do something, when the runs are few.
export { heredities, heredityWords, type Heredity } from "./heredity.ts";
export { inertLimits, type InertLimits } from "./inert-limits.ts";
export { mirroredPart } from "./mirror-pairs.ts";
export {
  modelsWithinReach,
  type ModelsWithinReach,
  type ReachableModel,
  type ReachOptions,
} from "./models-within-reach.ts";
export {
  twoStageScreening,
  type FirstStageEffect,
  type TwoStageOptions,
  type TwoStageScreening,
} from "./two-stage-screening.ts";
