import type { ChosenFrom } from "../chosen-from.ts";

/** A transformation with a meaning in the shop, and what the readings say of it. */
export interface TransformChoice {
  readonly name: "logarithm" | "none" | "square root" | "reciprocal";
  readonly lambda: number;
  /** Twice the log-likelihood lost against the best power. */
  readonly deviance: number;
  /** The chance of losing so much where this power is the right one (χ², 1 degree of freedom, the loss counted on residual degrees of freedom). */
  readonly p: number;
  /** True where the power lies outside the interval: the readings object to it. */
  readonly objectedTo: boolean;
}

/** The power of the response at which a model of these terms fits best, with its interval. */
export interface Transform {
  readonly response: { readonly name: string; readonly unit: string };
  readonly lambda: number;
  /** By the likelihood as it is published, which counts runs. An end at −5 or 5 means that the interval goes on beyond. */
  readonly low: number;
  readonly high: number;
  /** With residual degrees of freedom in place of runs: the one to go by with few runs. */
  readonly allowingForTerms: { readonly low: number; readonly high: number };
  readonly confidence: number;
  /** The physical choice first. */
  readonly choices: readonly TransformChoice[];
  /** The first choice that the readings do not object to; null where they object to all. */
  readonly offered: TransformChoice | null;
  /**
   * What a fit on the scale offered takes: `fitLinear(trial, { ...found.fitOptions })` says that these readings chose its scale. Null where none is offered,
   * and for the square root and the reciprocal, which no fit here is made on.
   */
  readonly fitOptions: { readonly log: boolean; readonly chosenFrom: ChosenFrom } | null;
  /** Points of the profile for a figure: power and log-likelihood less its largest value. */
  readonly profile: readonly { readonly lambda: number; readonly logLikelihood: number }[];
  /** How far the log-likelihood may fall within `allowingForTerms`. */
  readonly drop: number;
  readonly text: string;
  readonly notes: readonly string[];
}
