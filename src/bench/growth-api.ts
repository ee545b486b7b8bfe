import type { TrialHead } from "./api.ts";

/** What can be grown of a trial. */
export interface GrowthAnswer {
  readonly head: TrialHead;
  readonly factors: readonly string[];
  /** What each fold would free, in words; with `noFold` why there is none. */
  readonly folds: readonly string[];
  readonly noFold: string;
  readonly sigmaText: string;
  readonly recipe: string;
  readonly noRecipe: string;
}

/** Runs that would be added, and what they bring. */
export interface GrowthPreview {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly brings: readonly string[];
  readonly rules: readonly string[];
  /** How many runs the plan has: sent back with the runs to add. */
  readonly onto: number;
}
