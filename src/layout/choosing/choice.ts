import type { Settings } from "../../trial/index.ts";
import type { Stake } from "./question.ts";

/**
 * What a candidate can tell of one group of effects, in units of σ where the name says so. Effects of main effects and products
 * are from low to high, as `judge` has them; of a category, of one level against the first. A square's is the bend: how far the
 * middle lies from the line between low and high.
 */
export interface GroupFigures {
  /** How many can be told, and how many there are. */
  readonly told: number;
  readonly of: number;
  /** Standard error of the least well known effect, for σ = 1; null where one of them can't be told. */
  readonly standardErrorInSigma: number | null;
  /** The fewest degrees of freedom for error that one of them has. */
  readonly df: number;
  /** Half the width of its interval, for σ = 1; null where no interval can be had. */
  readonly halfWidthInSigma: number | null;
  /** The same of the best known effect: smaller where some effects are known better than others. */
  readonly leastHalfWidthInSigma: number | null;
  /** The smallest effect that is seen with chance 0.8, in σ. */
  readonly seenInSigma: number | null;
  /** The same in the response's unit; null where σ is unknown. With a range of σ, for its high end. */
  readonly halfWidth: number | null;
  /** The worst chance to see the effect that is worth knowing (or the yardstick of 2 σ, where none is stated). */
  readonly chance: number | null;
}

/** Where a main effect would be moved by an effect that the model leaves out. */
export interface Leaning {
  /** The effect that is estimated. */
  readonly on: string;
  /** The product of two factors behind it. */
  readonly hidden: string;
  /** Share of the hidden effect that is added: ±1 is the whole of it. */
  readonly share: number;
}

export interface CandidateFigures {
  /** Degrees of freedom for error with the model that answers the question; of these, from replicates. */
  readonly df: number;
  readonly dfPureError: number;
  readonly dfLackOfFit: number;
  readonly mainEffects: GroupFigures;
  readonly products: GroupFigures;
  readonly squares: GroupFigures;
  /** Half the width of the interval of a predicted mean, root-mean-square over the region, for σ = 1 and in the response's unit. */
  readonly prediction: {
    readonly averageVariance: number;
    readonly halfWidthInSigma: number | null;
    readonly halfWidth: number | null;
  } | null;
  /** The largest share of a product of two factors that falls on a main effect. */
  readonly worstLeaning: number;
  /** The largest ones, worst first, at most a dozen. */
  readonly leanings: readonly Leaning[];
  /** Whether a bend is seen: of each quantity by itself, of all together (from centre runs), or not at all. */
  readonly bend: "each" | "together" | "no";
}

/** What a candidate takes. Null where the trial does not state enough. */
export interface CandidateCost {
  readonly passes: number;
  readonly minutes: number | null;
  readonly edges: number | null;
  readonly stockMm: number | null;
  /** How often the factors that are hard to change are set up; 0 where there are none. */
  readonly setUps: number;
}

/** Whether a layout answers the question: fully, with a reservation that is said, or not. */
export type Answers = "yes" | "with-reservation" | "no";

/** A layout that fits the passes at hand. */
export interface Candidate {
  /** Unique in a choice, such as "fraction-8-centre-4". */
  readonly id: string;
  /** In words, such as "half fraction in 8 runs, with 4 centre runs". */
  readonly title: string;
  /** The layout of trial.json, ready to use. */
  readonly layout: { readonly kind: string } & Readonly<Record<string, unknown>>;
  readonly runs: number;
  readonly answers: Answers;
  readonly figures: CandidateFigures;
  readonly cost: CandidateCost;
  /** Plain words: what it can tell and what it can't. */
  readonly tells: readonly string[];
  readonly cannot: readonly string[];
  /** What it is worth for the question, 0 to 100, by the rule in `rank.ts`. */
  readonly worth: number;
}

/** A layout that would fit the passes and can't be cut, with the reason. */
export interface RefusedCandidate {
  readonly id: string;
  readonly title: string;
  readonly layout: Candidate["layout"];
  readonly reason: string;
}

/** How many passes would do. */
export interface Enough {
  /** So many passes are enough to answer the question (with a reservation, and without). Null: no layout here does. */
  readonly toAnswer: number | null;
  readonly toAnswerFully: number | null;
  /**
   * So many passes are enough for the recommended layout to see the effect that is worth knowing with chance 0.8; for the best
   * setting, to predict to ± that effect on average.
   */
  readonly toSee: number | null;
  readonly sentences: readonly string[];
}

/** A smaller question that the passes at hand do answer. */
export interface LesserQuestion {
  readonly stake: Stake;
  /** The factors that move; the others are held. */
  readonly factors: readonly string[];
  readonly text: string;
  readonly layout: Candidate["layout"] | null;
}

/** Passes that teach σ before the rest is cut. */
export interface TwoStages {
  /** Where the first stage is cut. */
  readonly settings: Settings;
  /** Passes of the first stage; of these, so many are runs of the recommended layout, the others are cut besides. */
  readonly passes: number;
  readonly ofTheTrial: number;
  readonly extra: number;
  /** σ lies between these multiples of the standard deviation of the first stage, at the confidence asked for. */
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** What is known, or could be, of the scatter. */
export interface SigmaAdvice {
  readonly known: "value" | "range" | "unknown";
  readonly low: number | null;
  readonly high: number | null;
  /** The largest σ with which the recommended layout sees the effect with chance 0.8; null without a stated effect. */
  readonly largestThatSees: number | null;
  /** So many passes at one setting would teach σ: it lies between these multiples of the standard deviation that is found. */
  readonly learnFirst: readonly { readonly passes: number; readonly from: number; readonly to: number }[];
  /** The same question with σ at its low and its high end: what would be recommended. */
  readonly ends: readonly {
    readonly sigma: number;
    readonly recommended: string | null;
    readonly title: string | null;
    readonly runs: number | null;
    readonly chance: number | null;
  }[];
  readonly twoStages: TwoStages | null;
  readonly sentences: readonly string[];
}

/** Layouts side by side, one recommended. Plain data for bench, command line and notebook. */
export interface LayoutChoice {
  readonly stake: Stake;
  readonly passes: number;
  readonly confidence: number;
  readonly unit: string;
  /** The effect that is worth knowing; null where none was stated (then 2 σ serves as the yardstick). */
  readonly effect: number | null;
  /** Best first; the first is the recommended one where there is one. */
  readonly candidates: readonly Candidate[];
  /** Null where the passes are too few for the question. */
  readonly recommended: { readonly id: string; readonly reason: string } | null;
  readonly refused: readonly RefusedCandidate[];
  readonly enough: Enough;
  /** What can be asked instead, where the passes are too few; empty otherwise. */
  readonly instead: readonly LesserQuestion[];
  readonly sigma: SigmaAdvice;
  /** The advice in a few sentences. */
  readonly advice: readonly string[];
}
