import type { Term } from "../model/index.ts";

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
}

export interface Judgement {
  readonly runs: number;
  readonly df: number;
  readonly dfPureError: number;
  /** What is left of `df` to show that the model misses something. */
  readonly dfLackOfFit: number;
  readonly efficiency: { readonly D: number; readonly I: number; readonly A: number };
  /** In words: what an efficiency of 1 stands for. */
  readonly efficiencyReference: string;
  readonly sigma: number;
  readonly effect: number | null;
  readonly confidence: number;
  readonly terms: readonly TermJudgement[];
  readonly inseparable: readonly { readonly labels: readonly string[]; readonly text: string }[];
  /** Plain words: what this layout can and can't tell. */
  readonly sentences: readonly string[];
}
