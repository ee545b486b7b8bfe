import type { Term } from "../model/index.ts";
import type { BiasEntry } from "./judge/bias.ts";
import type { Efficiency } from "./judge/efficiency.ts";
import type { TermStratum } from "./judge/error-df.ts";
import type { ErrorStratum } from "./judge/error-strata.ts";
import type { RunLoss } from "./judge/run-loss.ts";
import type { SetJudgement } from "./judge/set-power.ts";

/** What a layout can tell about one term, before cutting. */
export interface TermJudgement {
  readonly term: Term;
  readonly label: string;
  /** Null where the term can't be estimated. As the coefficient of the coded term, in units of the response. */
  readonly standardError: number | null;
  /** Half the width of the interval of the effect from low to high (twice the coded coefficient). */
  readonly halfWidth: number | null;
  /** Chance of seeing the stated effect (low to high) at the stated confidence. */
  readonly power: number | null;
  /** How many times the variance is what it would be without the other terms; null for a category of three levels or more, and where the term can't be estimated. */
  readonly varianceInflation: number | null;
  readonly worstCorrelation: number;
  readonly worstCorrelationWith: string;
  /** Correlation with place in cutting order: what steady wear or warm-up would do to this term. */
  readonly correlationWithOrder: number;
  /** Correlation with minutes of cut so far; null where the minutes are not known. */
  readonly correlationWithMinutes: number | null;
  readonly stratum: TermStratum;
  /** Degrees of freedom for the error of this term; null where none is left there. */
  readonly df: number | null;
  /** The term left out of the model that would move this one most; null where none does. */
  readonly worstBias: Omit<BiasEntry, "term" | "label"> | null;
}

export interface Judgement {
  readonly runs: number;
  readonly df: number;
  readonly dfPureError: number;
  /** What is left of `df` to show that the model misses something. */
  readonly dfLackOfFit: number;
  readonly efficiency: Efficiency;
  /** In words: what an efficiency of 1 stands for. */
  readonly efficiencyReference: string;
  readonly sigma: number;
  /** Variance between set-ups over variance between runs that the figures rest on; null where no factor is hard to change. */
  readonly varianceRatio: number | null;
  readonly effect: number | null;
  readonly confidence: number;
  readonly terms: readonly TermJudgement[];
  /** Terms that are tested together: categories of three levels and more, all products, all squares, and sets asked for. */
  readonly sets: readonly SetJudgement[];
  readonly inseparable: readonly { readonly labels: readonly string[]; readonly text: string }[];
  /** Where error is found, the coarsest stratum first. */
  readonly strata: readonly ErrorStratum[];
  /** What terms left out of the model would do to those in it. */
  readonly biases: readonly BiasEntry[];
  /** What is lost with each single run, in cutting order. */
  readonly losses: readonly RunLoss[];
  readonly worstLoss: RunLoss | null;
  /** Plain words: what this layout can and can't tell. */
  readonly sentences: readonly string[];
}
