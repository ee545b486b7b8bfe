import type { Setting } from "../trial/index.ts";
import type { RecipeOptions, Recipes } from "./recipe.ts";
import type { PointEvaluator } from "./recipe/point-evaluator.ts";
import type { ChosenFrom, ChosenTerms } from "./chosen-from.ts";
import type { ChangeBetween } from "./contrast/fitted-change.ts";
import type { ModelKind, Term } from "./term.ts";
import type { SecondDegree } from "./surface/second-degree.ts";
import type { Observation, ObservedBlocks, ObservedFactor, RepeatScatter } from "./observations.ts";

/** An estimate with its interval. `text` reads as part of a sentence: "0.45, 95 % 0.38 to 0.53". */
export interface Interval {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
  readonly confidence: number;
  readonly text: string;
}

/** An interval, or the reason why there can't be one (`estimate` null: nor an estimate). */
export type Uncertain =
  Interval | { readonly estimate: number | null; readonly reason: string; readonly text: string };

/**
 * Where no error is left, `standardError` and what follows from it are null, and `Fit.noInterval` says why. Where the runs are met
 * exactly, `standardError` is 0 and `t` and `p` are null.
 */
export interface Coefficient {
  readonly term: Term;
  /** In words: "feed × speed", "feed²", "edge used against fresh". */
  readonly label: string;
  readonly estimate: number;
  readonly standardError: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly t: number | null;
  readonly df: number;
  readonly p: number | null;
}

/** One source of an analysis of variance. `f` and `p` are null where there is no error to compare with, and for the residual itself. */
export interface AnalysisRow {
  readonly source: string;
  /** The term behind the source; null for blocks and the residual. */
  readonly term: Term | null;
  readonly df: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
  readonly f: number | null;
  readonly p: number | null;
  /** Of a mixed fit: the degrees of freedom of the scatter that the source is judged by; left out where that is the residual. */
  readonly denominatorDf?: number;
}

export interface LackOfFit {
  readonly f: number;
  readonly p: number;
  readonly dfLack: number;
  readonly dfPure: number;
  readonly sumOfSquaresLack: number;
  readonly sumOfSquaresPure: number;
}

/** Corner mean less centre mean, against pure error; on the scale that was fitted. */
export interface Curvature {
  readonly difference: number;
  readonly standardError: number;
  readonly low: number;
  readonly high: number;
  readonly sumOfSquares: number;
  readonly f: number;
  readonly t: number;
  readonly df: number;
  readonly p: number;
}

/** What one factor does over its whole range, other factors averaged (coded middle; categories evenly weighted). */
export interface Effect {
  readonly factor: string;
  /** Quantities: low to high. Categories: each level against the first. */
  readonly from: Setting;
  readonly to: Setting;
  /** `difference` in the response's unit; `ratio` on the log scale. */
  readonly as: "difference" | "ratio";
  readonly value: Uncertain;
  readonly p: number | null;
  /** Of everything in the model that this factor has a part in, taken together (products and squares too); null without error. */
  readonly pAll: number | null;
  /** In the shop's words, with the interval; or that no difference was seen and what could have been missed. */
  readonly sentence: string;
}

/** One row of the fit, with what diagnostics need. `value`, `fitted` and `residual` are on the scale that was fitted (see `Fit.logScale`). */
export interface FittedRow extends Observation {
  readonly fitted: number;
  readonly residual: number;
  /** The share of the row's own value in its fitted value; null in a mixed fit of more than 3000 rows whose sources cross. */
  readonly leverage: number | null;
  /** Externally studentised; null where it can't be computed. */
  readonly studentised: number | null;
  readonly cookDistance: number | null;
}

/** Terms that the runs can't tell apart: any one of them may stand for all. */
export interface InseparableSet {
  readonly terms: readonly Term[];
  readonly labels: readonly string[];
  /** In words: "speed moved together with feed in every run". */
  readonly text: string;
}

export interface Prediction {
  readonly at: Readonly<Record<string, Setting>>;
  readonly estimate: number;
  readonly mean: { readonly low: number; readonly high: number } | null;
  readonly single: { readonly low: number; readonly high: number } | null;
  readonly confidence: number;
  /** Names the factors that stand outside what was cut, or whose effect was not estimable here; empty inside. */
  readonly extrapolation: readonly string[];
  readonly text: string;
}

/** Where a surface of second degree is level, and how it bends there. */
export interface Surface {
  /** Null where the surface has no single level point (a ridge); `text` says so. */
  readonly stationary: Readonly<Record<string, number>> | null;
  /** The response there, on its own scale. */
  readonly value: number | null;
  /** Of the second-degree part in coded factors, largest first: all below zero a maximum, all above a minimum. */
  readonly eigenvalues: readonly number[];
  /** One direction an eigenvalue, in coded factors, in the order of `factors`. */
  readonly axes: readonly (readonly number[])[];
  readonly factors: readonly string[];
  readonly shape: "maximum" | "minimum" | "saddle" | "ridge";
  /** Whether the point lies within the range of every factor that was cut. */
  readonly inside: boolean;
  readonly text: string;
}

/**
 * Judging effects without replicates (Lenth 1989): which of them stand out from the rest. All figures are effects from low to high,
 * on the scale that was fitted.
 */
export interface Unreplicated {
  readonly effects: readonly { readonly term: Term; readonly label: string; readonly effect: number }[];
  readonly initialScale: number;
  readonly pseudoStandardError: number;
  readonly df: number;
  /** An inert effect keeps within it with the stated confidence. */
  readonly margin: number;
  /** All inert effects together keep within it with the stated confidence. */
  readonly simultaneousMargin: number;
  /** Terms whose effects pass the margin. */
  readonly active: readonly Term[];
  /** The same with limits drawn for this number of effects, in place of Student's t; made when it is read. */
  readonly exact: ExactlyJudged;
}

/** Effects judged with limits that were drawn: see `inertLimits`. */
export interface ExactlyJudged {
  readonly margin: number;
  readonly simultaneousMargin: number;
  /** In the order of `effects`: chance that an inert effect, and that the largest of inert effects, comes out as large. */
  readonly chances: readonly { readonly single: number; readonly all: number }[];
  readonly active: readonly Term[];
  /** What a fit of the active ones takes: categories as a whole, and each factor of a product by itself too. Such a fit says that these runs chose it. */
  readonly terms: ChosenTerms;
  readonly draws: number;
  readonly seed: number;
}

/** A fitted model: plain fields to read and functions that ask it questions. Nothing in it changes. */
export interface Fit {
  readonly kind: "linear" | "power-law";
  readonly model: ModelKind | "given";
  readonly response: { readonly name: string; readonly unit: string };
  readonly factors: readonly ObservedFactor[];
  readonly confidence: number;
  /** True where the response was fitted as its natural logarithm. */
  readonly logScale: boolean;
  /** True where the fit goes through the origin: R² is about zero. */
  readonly throughOrigin: boolean;
  /** Scale of `coefficients`: the factors' own units, or coded −1 to +1 over their range. */
  readonly scale: "natural" | "coded";
  /** The blocks that were fitted, each at its own level; null where none were. */
  readonly blocks: ObservedBlocks | null;
  /** Weight of each row, where the rows were weighted. */
  readonly weights: readonly number[] | null;
  /** The terms asked for, intercept included. */
  readonly terms: readonly Term[];
  /** Natural units (or coded when asked). Aliased terms are absent here and named in `inseparable`. */
  readonly coefficients: readonly Coefficient[];
  /** Of `coefficients`, row by row; null where no error is left. */
  readonly covariance: readonly (readonly number[])[] | null;
  readonly residualSd: number | null;
  readonly residualDf: number;
  /** Why there are no intervals; empty where there are. */
  readonly noInterval: string;
  readonly rSquared: number | null;
  readonly rSquaredAdjusted: number | null;
  /** Sequential, in the order of the terms; ends with "residual". */
  readonly analysis: readonly AnalysisRow[];
  /** Each term as if it came last, tested in the middle of the others (quantities coded, levels evenly weighted); ends with "residual". */
  readonly analysisLast: readonly AnalysisRow[];
  readonly lackOfFit: LackOfFit | null;
  /** Why there is no test of lack of fit; empty where there is one. */
  readonly noLackOfFit: string;
  readonly curvature: Curvature | null;
  readonly surface: Surface | null;
  /** The model as a polynomial of first or second degree in coded quantities, with its covariance; null where it is none. */
  readonly secondDegree: SecondDegree | null;
  readonly unreplicated: Unreplicated | null;
  readonly inseparable: readonly InseparableSet[];
  readonly effects: readonly Effect[];
  readonly rows: readonly FittedRow[];
  readonly repeats: RepeatScatter | null;
  /** Set where the model was chosen by looking at these data: its intervals know nothing of that, and the notes say so. */
  readonly chosenFrom?: ChosenFrom;
  /** How readings became rows, and what else a reader of the figures should know, in words. */
  readonly notes: readonly string[];
  /** Mean response and single run at stated settings; factors left out stand at their middle or first level. */
  readonly predict: (at: Readonly<Record<string, Setting>>, options?: { confidence?: number }) => Prediction;
  /** For searches: the fit at any point without anything made on the way; left out where a point needs degrees of freedom of its own. */
  readonly evaluator?: () => PointEvaluator;
  /** How far the fitted mean goes from one place to another, on the scale that was fitted; told in words by `contrast`. */
  readonly change: ChangeBetween;
  /** How multiplying one factor by `multiplier` multiplies the response (power law), 0.5 for halving. */
  readonly ratio: (factor: string, multiplier: number) => Uncertain;
  /** The settings that keep a limit; see `recipes`. Refused for a fit that was not made from a trial. */
  readonly recipes: (options?: RecipeOptions) => Recipes;
}
