import type { ParameterProfile } from "./profile-trace.ts";

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

/** A fitted curve. */
export interface CurveFit {
  readonly kind: "curve";
  readonly expression: string;
  readonly response: { readonly name: string; readonly unit: string };
  readonly confidence: number;
  /** How `low` and `high` were found. Under "profile" a null end is open: the data set no bound there. */
  readonly intervals: "linear" | "profile";
  readonly parameters: readonly CurveParameter[];
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
  readonly rows: readonly CurveRow[];
  readonly notes: readonly string[];
  /** How the fit worsens away from a parameter's estimate; null where there are no intervals, or the parameter has none. */
  readonly profile: (name: string) => ParameterProfile | null;
}
