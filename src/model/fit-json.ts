import type { Fit } from "./fit.ts";
import { bendIntervals, stationaryRegion, type StationaryRegion } from "./surface/index.ts";
import type { Setting } from "../trial/index.ts";
import type { Term } from "./term.ts";

/** A fit as JSON for machines; see `fitJson`. */
export interface FitJson {
  readonly coefficients: readonly {
    readonly term: Term;
    readonly label: string;
    readonly estimate: number;
    readonly standardError: number | null;
    readonly low: number | null;
    readonly high: number | null;
    readonly t: number | null;
    readonly df: number;
    readonly p: number | null;
  }[];
  readonly residualSd: number | null;
  readonly residualDf: number;
  readonly rSquared: number | null;
  readonly rSquaredAdjusted: number | null;
  readonly analysis: readonly JsonAnalysisRow[];
  readonly analysisLast: readonly JsonAnalysisRow[];
  readonly lackOfFit: {
    readonly f: number;
    readonly p: number;
    readonly dfLack: number;
    readonly dfPure: number;
    readonly sumOfSquaresLack: number;
    readonly sumOfSquaresPure: number;
  } | null;
  readonly inseparable: readonly { readonly terms: readonly Term[]; readonly text: string }[];
  readonly surface?: {
    readonly stationary: Readonly<Record<string, number>> | null;
    readonly value: number | null;
    readonly eigenvalues: readonly number[];
    readonly shape: string;
    /** One direction an eigenvalue, in coded factors, in the order of `factors`, and what the interval says of the bend along it. */
    readonly axes: readonly (readonly number[])[];
    readonly factors: readonly string[];
    readonly bends: readonly string[];
    /** Where the level point may lie in truth; left out where there is none, or no scatter to judge by. */
    readonly region?: Pick<StationaryRegion, "confidence" | "bounded" | "extent" | "shareOfRange">;
  };
  readonly curvature?: {
    readonly difference: number;
    readonly sumOfSquares: number;
    readonly f: number;
    readonly t: number;
    readonly df: number;
    readonly p: number;
  };
  readonly unreplicated?: {
    readonly initialScale: number;
    readonly pseudoStandardError: number;
    readonly df: number;
    readonly margin: number;
    readonly simultaneousMargin: number;
    readonly active: readonly Term[];
    /** `chance`: that an inert effect comes out as large, by limits that were drawn. */
    readonly effects: readonly { readonly term: Term; readonly effect: number; readonly chance: number }[];
    readonly exactMargin: number;
    readonly exactSimultaneousMargin: number;
    /** How often each margin holds. */
    readonly note: string;
  };
  readonly noInterval?: string;
  readonly noLackOfFit?: string;
  readonly notes?: readonly string[];
  readonly predictions?: readonly {
    readonly at: Readonly<Record<string, Setting>>;
    readonly estimate: number;
    readonly mean: { readonly low: number; readonly high: number } | null;
    readonly single: { readonly low: number; readonly high: number } | null;
    readonly extrapolation?: readonly string[];
  }[];
}

interface JsonAnalysisRow {
  readonly source: string;
  readonly df: number;
  readonly sumOfSquares: number;
  readonly meanSquare: number;
  readonly f: number | null;
  readonly p: number | null;
  readonly denominatorDf?: number;
}

/**
 * A fit as plain JSON: coefficients with intervals, analysis of variance (in order, and each term last), lack of fit, what the runs can't
 * tell apart, and where they apply surface, curvature and unreplicated effects. `at` adds predictions on the response's own scale.
 * Every number is a double in full; nothing is rounded. What can't be told is null, or left out with its reason (`noInterval`).
 */
export function fitJson(
  fit: Fit,
  options: { readonly at?: readonly Readonly<Record<string, Setting>>[] } = {},
): FitJson {
  const { at = [] } = options;
  const rows = (analysis: Fit["analysis"]): readonly JsonAnalysisRow[] =>
    analysis.map(({ source, df, sumOfSquares, meanSquare, f, p, denominatorDf }) => ({
      source,
      df,
      sumOfSquares,
      meanSquare,
      f,
      p,
      ...(denominatorDf === undefined ? {} : { denominatorDf }),
    }));
  return {
    coefficients: fit.coefficients.map(({ term, label, estimate, standardError, low, high, t, df, p }) => ({
      term,
      label,
      estimate,
      standardError,
      low,
      high,
      t,
      df,
      p,
    })),
    residualSd: fit.residualSd,
    residualDf: fit.residualDf,
    rSquared: fit.rSquared,
    rSquaredAdjusted: fit.rSquaredAdjusted,
    analysis: rows(fit.analysis),
    analysisLast: rows(fit.analysisLast),
    lackOfFit: fit.lackOfFit,
    inseparable: fit.inseparable.map(({ terms, text }) => ({ terms, text })),
    ...(fit.surface === null ? {} : { surface: surfaceJson(fit, fit.surface) }),
    ...(fit.curvature === null
      ? {}
      : { curvature: pick(fit.curvature, ["difference", "sumOfSquares", "f", "t", "df", "p"]) }),
    ...(fit.unreplicated === null ? {} : { unreplicated: unreplicatedJson(fit.unreplicated) }),
    ...(fit.noInterval === "" ? {} : { noInterval: fit.noInterval }),
    ...(fit.noLackOfFit === "" ? {} : { noLackOfFit: fit.noLackOfFit }),
    ...(fit.notes.length === 0 ? {} : { notes: fit.notes }),
    ...(at.length === 0 ? {} : { predictions: at.map((settings) => predictionJson(fit, settings)) }),
  };
}

function surfaceJson(fit: Fit, surface: NonNullable<Fit["surface"]>): NonNullable<FitJson["surface"]> {
  const told = {
    ...pick(surface, ["stationary", "value", "eigenvalues", "shape", "axes", "factors"]),
    bends: bendIntervals(fit).map(({ bends }) => bends),
  };
  if (surface.stationary === null || fit.noInterval !== "") return told;
  const { bounded, extent, shareOfRange, confidence } = stationaryRegion(fit);
  return { ...told, region: { confidence, bounded, extent, shareOfRange } };
}

/** Figures of the committed table of coverage. */
const marginNote =
  "margin, simultaneousMargin and active are by Student's t (Lenth 1989) and let too few through: in 10,000 drawn trials of 8 runs and 7 effects an inert effect passed margin in 2.1 % where 5 % are stated, and exactMargin in 4.7 %. Sentences and pages go by exactMargin.";

function unreplicatedJson(given: NonNullable<Fit["unreplicated"]>): NonNullable<FitJson["unreplicated"]> {
  return {
    ...pick(given, ["initialScale", "pseudoStandardError", "df", "margin", "simultaneousMargin", "active"]),
    effects: given.effects.map(({ term, effect }, k) => ({
      term,
      effect,
      chance: given.exact.chances[k].single,
    })),
    exactMargin: given.exact.margin,
    exactSimultaneousMargin: given.exact.simultaneousMargin,
    note: marginNote,
  };
}

function predictionJson(
  fit: Fit,
  settings: Readonly<Record<string, Setting>>,
): NonNullable<FitJson["predictions"]>[number] {
  const { at, estimate, mean, single, extrapolation } = fit.predict(settings);
  return { at, estimate, mean, single, ...(extrapolation.length === 0 ? {} : { extrapolation }) };
}

function pick<T, K extends keyof T>(from: T, keys: readonly K[]): Pick<T, K> {
  return Object.fromEntries(keys.map((key) => [key, from[key]])) as Pick<T, K>; // the keys are exactly K
}
