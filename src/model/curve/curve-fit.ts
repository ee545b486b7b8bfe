import type { ChangeBetween } from "../contrast/fitted-change.ts";
import type { ParameterProfile } from "./profile-trace.ts";
import type { SettingFor, SettingForOptions } from "./setting-answer.ts";

/** A parameter of a curve. Standard error and interval are null where there can't be any; `CurveFit.noInterval` says why. */
export interface CurveParameter {
  readonly name: string;
  readonly estimate: number;
  readonly standardError: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** True where the curve is linear in it (together with the other linear ones), so that its start does not matter. */
  readonly linear: boolean;
}

/** A row of a curve's table, with what the curve makes of it. */
export interface CurveRow {
  readonly row: string;
  readonly value: number;
  readonly fitted: number;
  readonly residual: number;
  readonly leverage: number;
}

/** What came of searching from several starts. */
export interface CurveStarts {
  readonly tried: number;
  readonly seed: number;
  /** Searches that ended at a minimum. */
  readonly settled: number;
  /** Of these, how many ended at the best. */
  readonly reached: number;
  /** Starts at which the curve can't be computed. */
  readonly notComputable: number;
  /** Sums of squares of the other minima met, rising. */
  readonly others: readonly number[];
  readonly sentence: string;
}

/** What the curve says at stated settings, on the scale of the response that was fitted. */
export interface CurvePrediction {
  readonly at: Readonly<Record<string, number>>;
  /** Null where the curve can't be computed there. */
  readonly estimate: number | null;
  readonly mean: { readonly low: number; readonly high: number } | null;
  /** One more row like those that were fitted; null with weights, since its weight is not known. */
  readonly single: { readonly low: number; readonly high: number } | null;
  readonly confidence: number;
  /** Columns that stand outside the rows that were fitted. */
  readonly extrapolation: readonly string[];
  /** Why there is no interval; empty where there is one. */
  readonly reason: string;
  readonly text: string;
}

/** A fitted curve: plain fields to read, and two functions that ask it questions. */
export interface CurveFit {
  readonly kind: "curve";
  readonly expression: string;
  readonly response: { readonly name: string; readonly unit: string };
  /** The columns that the curve uses, with the range that was seen. */
  readonly columns: readonly {
    readonly name: string;
    readonly unit: string;
    readonly low: number;
    readonly high: number;
  }[];
  readonly confidence: number;
  /** How `low` and `high` were found. Under "profile" a null end is open: the data set no bound there. */
  readonly intervals: "linear" | "profile";
  readonly parameters: readonly CurveParameter[];
  /** Of the parameters, row by row, by the curve's slope at the solution; null where there are no intervals. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Σ weight × residual². */
  readonly residualSumOfSquares: number;
  readonly residualSd: number | null;
  readonly df: number;
  readonly converged: boolean;
  /** How the search ended, in words. */
  readonly reason: string;
  /** Bates and Watts's measure of the distance from the minimum; null where no degrees of freedom are left. */
  readonly relativeOffset: number | null;
  /** Why there are no intervals; empty where there are. */
  readonly noInterval: string;
  /** Null where one start was asked for. */
  readonly starts: CurveStarts | null;
  readonly rows: readonly CurveRow[];
  readonly notes: readonly string[];
  /** How the fit worsens away from a parameter's estimate; null where there are no intervals, or the parameter has none. */
  readonly profile: (name: string) => ParameterProfile | null;
  /**
   * The curve at stated settings with the interval of its mean and of one more row, by its slope in the parameters (delta method; Bates and Watts 1988, 2.3.2): exact for a
   * curve that is linear in its parameters, near enough where it bends little within their uncertainty. Refused: a column missing, unknown, or not a finite number.
   */
  readonly predict: (
    at: Readonly<Record<string, number>>,
    options?: { readonly confidence?: number },
  ) => CurvePrediction;
  /** How far the curve goes from one place to another, by its slopes as `predict`; told in words by `contrast`. Every column must be given. */
  readonly change: ChangeBetween;
  /** The setting of one column that gives a response, with its likelihood interval; see `settingFor`. */
  readonly settingFor: (options: SettingForOptions) => SettingFor;
}
