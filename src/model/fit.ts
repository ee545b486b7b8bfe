import type { Setting } from "../trial/index.ts";
import type { ModelKind, Term } from "./term.ts";
import type { Observation, ObservedFactor, RepeatScatter } from "./observations.ts";

/** An estimate with its interval. `text` reads as part of a sentence: "0.45, 95 % 0.38 to 0.53". */
export interface Interval {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
  readonly confidence: number;
  readonly text: string;
}

/** An interval, or the reason why there can't be one. */
export type Uncertain = Interval | { readonly estimate: number; readonly reason: string; readonly text: string };

/** Where no error is left, `standardError` and what follows from it are null, and `Fit.noInterval` says why. */
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

export interface AnalysisRow {
  readonly source: string;
  readonly df: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
  readonly f: number | null;
  readonly p: number | null;
}

export interface LackOfFit {
  readonly f: number;
  readonly p: number;
  readonly dfLack: number;
  readonly dfPure: number;
  readonly sumOfSquaresLack: number;
  readonly sumOfSquaresPure: number;
}

/** Corner mean less centre mean, against pure error. */
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
  /** In the shop's words, with the interval; or that no difference was seen and what could have been missed. */
  readonly sentence: string;
}

/** One row of the fit, with what diagnostics need. Fitted values and residuals are on the scale that was fitted (see `Fit.logScale`). */
export interface FittedRow extends Observation {
  readonly fitted: number;
  readonly residual: number;
  readonly leverage: number;
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

/** A fitted model: plain fields to read and functions that ask it questions. Nothing in it changes. */
export interface Fit {
  readonly kind: "linear" | "power-law";
  readonly model: ModelKind | "given";
  readonly response: { readonly name: string; readonly unit: string };
  readonly factors: readonly ObservedFactor[];
  readonly confidence: number;
  /** True where the response was fitted as its natural logarithm. */
  readonly logScale: boolean;
  /** The terms asked for, intercept included. */
  readonly terms: readonly Term[];
  /** Natural units (or coded when asked). Aliased terms are absent here and named in `inseparable`. */
  readonly coefficients: readonly Coefficient[];
  readonly residualSd: number | null;
  readonly residualDf: number;
  /** Why there are no intervals; empty where there are. */
  readonly noInterval: string;
  readonly rSquared: number | null;
  readonly rSquaredAdjusted: number | null;
  /** Sequential, in the order of the terms; ends with "residual". */
  readonly analysis: readonly AnalysisRow[];
  /** Each term as if it came last. */
  readonly analysisLast: readonly AnalysisRow[];
  readonly lackOfFit: LackOfFit | null;
  readonly curvature: Curvature | null;
  readonly inseparable: readonly InseparableSet[];
  readonly effects: readonly Effect[];
  readonly rows: readonly FittedRow[];
  readonly repeats: RepeatScatter | null;
  /** Mean response and single run at stated settings; factors left out stand at their middle or first level. */
  readonly predict: (at: Readonly<Record<string, Setting>>, options?: { confidence?: number }) => Prediction;
  /** How multiplying one factor by `multiplier` multiplies the response (power law), 0.5 for halving. */
  readonly ratio: (factor: string, multiplier: number) => Uncertain;
}
