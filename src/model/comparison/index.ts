// Levels of a category compared: every pair, with a control, with a margin.
export type { ComparedLevel, Comparison, ComparisonMethod, LevelPair, OverallTest } from "./comparison.ts";
export type { CompareOptions } from "./compare-options.ts";
export { compareLevels } from "./compare-levels.ts";
export {
  equivalence,
  type Equivalence,
  type EquivalenceOptions,
  type EquivalentPair,
} from "./equivalence.ts";
export { equivalencePower, equivalenceRuns, type EquivalencePlan } from "./equivalence-power.ts";
export { holmAdjusted } from "./adjusted.ts";
