import type { Setting } from "../../trial/index.ts";
import type { NoProofPlan, ProofPlan } from "../proof-runs/proof-plan.ts";
import type { PassFigures, RecipeOptions } from "../recipe.ts";
import type { Objective } from "./pass-score.ts";
import type { LimitAsked, ResponseLimit } from "./response-limit.ts";
import type { SpaceOptions } from "./search-space.ts";

/** What is wanted of a recipe with several limits; every default is stated here. */
export interface JointRecipeOptions extends SpaceOptions {
  /** By response. Those left out keep the trial's own limit, for 95 % of parts with 95 % assurance. */
  readonly limits?: Readonly<Record<string, LimitAsked>>;
  /** What to push. Default: removal where the trial states what it needs, else the time of a pass. */
  readonly objective?: Objective;
  /** What to compare with. Default: the trial's own `today`. */
  readonly today?: RecipeOptions["today"];
  /** Chances and shares of the proof runs; see `proofOfRecipe`. */
  readonly proof?: { readonly failGood?: number; readonly passBad?: number; readonly goodShare?: number };
}

/** One limit at the settings of a recipe. */
export interface LimitKept extends ResponseLimit {
  readonly estimate: number;
  /** One-sided, with `assurance`. */
  readonly bound: number;
  /** From the bound to the limit, in the response's unit; below zero where the bound breaks it. */
  readonly margin: number;
  /** The same in standard deviations of one run, on the scale that was fitted; null where the runs show no scatter. */
  readonly marginInSd: number | null;
  readonly isKept: boolean;
  /** The assurance that the settings really have; as much as asked or more where the limit is kept. */
  readonly assuranceThere: number;
  /** The share of single parts that the estimates themselves put within the limit. */
  readonly shareThere: number;
  /** True where this bound stops a step that would gain. */
  readonly binds: boolean;
  readonly text: string;
}

/** Why a quantity is not pushed one increment further. */
export interface Stop {
  readonly factor: string;
  readonly direction: "up" | "down";
  /** That setting, one increment on; null where what is searched ends. */
  readonly next: number | null;
  /** Names of responses, "machine" for its limits, or "range" where what was cut ends. */
  readonly by: readonly string[];
}

/** The proof runs of one limit; `plan` is null where none can be laid out, and `reason` says why. */
export interface LimitProof {
  readonly response: string;
  readonly plan: ProofPlan | NoProofPlan | null;
  readonly reason: string;
}

/** Settings that keep several limits at once and push removal (or time, or a product) as far as they let it. */
export interface JointRecipe extends PassFigures {
  readonly outcome: "found" | "none" | "no-bound";
  /** The recipe; without one the settings that come nearest. */
  readonly settings: Readonly<Record<string, Setting>>;
  readonly limits: readonly LimitKept[];
  /** Responses whose bound stops a gain. */
  readonly binding: readonly string[];
  readonly stops: readonly Stop[];
  /** At least so sure that every statement holds together, whatever ties the responses (Bonferroni). */
  readonly assuranceTogether: number;
  readonly objective: Objective;
  readonly today: (PassFigures & { readonly settings: Readonly<Record<string, Setting>> }) | null;
  readonly minutesRatio: number | null;
  readonly removalRatio: number | null;
  readonly proof: readonly LimitProof[];
  readonly search: {
    readonly quantities: readonly string[];
    /** The increment of each of them, in its own unit. */
    readonly steps: readonly number[];
    readonly settings: number;
    readonly judged: number;
    /** True where no setting of the grid can be better. */
    readonly exact: boolean;
  };
  /** What of the settings lies outside what was cut; empty inside. */
  readonly extrapolation: readonly string[];
  readonly notes: readonly string[];
  /** Why there is no recipe; empty where there is one. */
  readonly reason: string;
  readonly text: string;
  readonly table: {
    readonly columns: readonly string[];
    readonly rows: readonly (readonly (string | number | null)[])[];
  };
}
