/** Which figure of the proof runs decides. */
export type ProofRule =
  /** So many parts at most may pass the limit: counting, with nothing supposed about the scatter. */
  | "parts"
  /** The mean must lie inside the limit by so many standard deviations of the mean. */
  | "mean"
  /** The mean must lie inside the limit by so many standard deviations of single parts: a share of parts, from their size. */
  | "share";

/** What is asked of proof runs; every default is stated in `proofPlan`. */
interface ProofAskedOfAll {
  /** In the response's unit. */
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  readonly unit?: string;
  /** Random sources of which each proof part brings a fresh level, such as a day or a set-up. Default: none. */
  readonly fresh?: readonly string[];
  /** True decides on logarithms, as the fit did: the mean is then the median of the parts. */
  readonly log?: boolean;
  /** The largest chance to fail a good recipe that is borne. Default 0.05. */
  readonly failGood?: number;
  /** The largest chance to pass a bad recipe that is borne. Default 0.05. */
  readonly passBad?: number;
  /** No more proof runs than these. Default 100. */
  readonly atMost?: number;
}

export interface ProofOfMean extends ProofAskedOfAll {
  readonly rule: "mean";
  /** The true mean of a recipe that should pass. */
  readonly goodMean: number;
  /** The true mean of a recipe that should fail; the limit itself where it is left out. */
  readonly badMean?: number;
  /** The scatter from part to part: in the response's unit, with `log` of its natural logarithm. */
  readonly sigma: number;
}

export interface ProofOfShare extends ProofAskedOfAll {
  readonly rule: "parts" | "share";
  /** The share of parts that a good recipe keeps within the limit. Default 0.99. */
  readonly goodShare?: number;
  /** The share of parts that a bad one keeps within it. Default 0.8. */
  readonly badShare?: number;
}

export type ProofAsked = ProofOfMean | ProofOfShare;

/** What passes: so many parts over the limit at most, or a mean so many standard deviations inside it at least. */
export type ProofCriterion =
  | { readonly kind: "count"; readonly mostOver: number }
  | { readonly kind: "distance"; readonly standardDeviations: number };

/** Proof runs with the rule by which they pass or fail, decided before they are cut. */
export interface ProofPlan {
  readonly outcome: "found";
  readonly rule: ProofRule;
  readonly runs: number;
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  readonly unit: string;
  /** Random sources of which each proof part brings a fresh level; the chances hold only where it does. */
  readonly fresh?: readonly string[];
  readonly log: boolean;
  readonly criterion: ProofCriterion;
  /** True values that the two chances are for: means, or shares of parts. */
  readonly good: number;
  readonly bad: number;
  /** Chance that a recipe as good as `good` fails. */
  readonly failGood: number;
  /** Chance that a recipe as bad as `bad` passes. */
  readonly passBad: number;
  /** Scatter that the chances stand on; null where none is needed. */
  readonly sigma: number | null;
  /** The rule as one sentence, to be written down before the first proof part is cut. */
  readonly ruleText: string;
  /** Both chances as one sentence. */
  readonly chancesText: string;
  /** Why this rule. */
  readonly why: string;
}

/** No rule of so few runs keeps both chances as low as asked. */
export interface NoProofPlan {
  readonly outcome: "none";
  readonly rule: ProofRule;
  readonly atMost: number;
  /** The chance to fail a good recipe with that many runs, where passing a bad one is as rare as asked; null where no rule does that. */
  readonly failGood: number | null;
  /** What would work. */
  readonly reason: string;
}
