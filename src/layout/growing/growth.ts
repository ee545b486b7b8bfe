import type { ProofPlan, Term } from "../../model/index.ts";
import type { Factor, Run, Trial, TrialSpec } from "../../trial/index.ts";
import type { Judgement } from "../judgement.ts";
import type { How } from "./how.ts";

/** What can be grown: a trial as it stands, or runs with their factors (settings as they were cut). */
export type Grown = Trial | { readonly factors: readonly Factor[]; readonly runs: readonly Run[] };

/** What is grown, brought to one form. */
export interface Cut {
  readonly factors: readonly Factor[];
  /** As planned: what a way mirrors, repeats or stretches, so that an addition stands on the machine's own steps. */
  readonly planned: readonly Run[];
  /** As they were really cut: what is judged. */
  readonly asCut: readonly Run[];
  /** Limits and budget; null where only factors and runs are known. */
  readonly spec: TrialSpec | null;
}

/** Runs that a way asks for, before they have a place. */
export interface Wanted {
  readonly runs: readonly Pick<Run, "role" | "settings">[];
  /** In plain words: what the way does and what a user should know. */
  readonly notes: readonly string[];
  /** What the addition is judged by. */
  readonly terms: readonly Term[];
  /** What it brings, beyond what the two judgements say. */
  readonly brings: readonly string[];
  /** Proof runs: the rule by which they pass or fail. */
  readonly proof?: ProofPlan;
}

/** What an addition is worth, judged on the settings that were cut. */
export interface GrowthJudgement {
  readonly before: Judgement;
  readonly after: Judgement;
}

/** Runs to add to a trial, in cutting order, with what they bring. */
export interface Growth {
  readonly by: How["by"];
  /** How it was made, defaults filled in: the same trial and the same `how` give the same runs. */
  readonly how: How;
  /** The added runs only, numbered on from what was cut. */
  readonly runs: readonly Run[];
  /** The block that they stand in. */
  readonly block: number;
  readonly orderRules: readonly string[];
  readonly notes: readonly string[];
  readonly judged: GrowthJudgement;
  /** Proof runs: the rule by which they pass or fail; null for every other way. */
  readonly proof: ProofPlan | null;
  /** In plain words: what the addition brings, and what it doesn't. */
  readonly brings: readonly string[];
}
