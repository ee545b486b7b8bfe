import { listed } from "../../units/index.ts";
import { nonCentralTCdf, tQuantile } from "../../numerics/index.ts";
import type { Factor, Run } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import type { Judgement, TermJudgement } from "../judgement.ts";
import { correlationOf, standardised } from "./correlation.ts";
import { EFFICIENCY_REFERENCE, efficiencyOf } from "./efficiency.ts";
import { informationOf, unitVariance, type Information } from "./information.ts";
import {
  chosenTerms,
  modelColumns,
  type ModelChoice,
  type ModelColumns,
  type ModelEstimand,
} from "./model-columns.ts";
import { pureErrorDf } from "./pure-error.ts";
import { judgementSentences } from "./sentences.ts";

export interface JudgeOptions extends ModelChoice {
  /** The guess of the run-to-run standard deviation, in the response's unit. */
  readonly sigma: number;
  /** The smallest change from low to high worth seeing, in the response's unit. */
  readonly effect?: number | null;
  /** Of the intervals, and one less the risk of a false alarm; default 0.95. */
  readonly confidence?: number;
  /** The response's unit, for the sentences. */
  readonly unit?: string;
}

/**
 * What a layout can and can't tell, before a chip is cut.
 *
 * Use it on a plan, or on runs that came from elsewhere. `runs` are in cutting order; settings in the factors' units. The
 * model holds the mean, the blocks and the terms asked for. Returns for each term the standard error of its coded
 * coefficient, the half-width of the interval of its effect from low to high (twice the coefficient; for a category, of one
 * level against the first), the power to see `effect` (noncentral t, two-sided), the worst correlation with another term and
 * with cutting order; the efficiency of the whole; degrees of freedom; and the same in sentences. Terms that the runs can't
 * tell apart have null in place of numbers and stand in `inseparable`. Refuses a σ or an effect that is not above zero.
 *
 * Example: a 2³ factorial in duplicate, main effects, σ = 1: every standard error is 0.25 and every half-width
 * t(0.975, 12) × 0.5 = 1.089.
 */
export function judge(
  runs: readonly Pick<Run, "block" | "settings">[],
  factors: readonly Factor[],
  options: JudgeOptions,
): Judgement {
  const { sigma, effect = null, confidence = 0.95, unit = "" } = options;
  refuseOptions(runs.length, sigma, effect, confidence);
  const model = modelColumns(factors, chosenTerms(factors, options), runs);
  const information = informationOf(model.columns);
  const df = runs.length - information.kept.length;
  const dfPureError = pureErrorDf(factors, runs);
  const mixed = mixedColumns(information);
  const order = standardised(Float64Array.from(runs, (_, index) => index));
  const contrasts = model.estimands.map((estimand) => standardised(estimand.contrast));
  const terms = model.estimands.map((estimand, index): TermJudgement => {
    const standardError = standardErrorOf(estimand, information, mixed, sigma);
    const worst = worstOf(model, contrasts, index);
    return {
      term: estimand.term,
      label: estimand.label,
      standardError,
      halfWidth:
        standardError === null || df < 1 ? null : tQuantile((1 + confidence) / 2, df) * 2 * standardError,
      power:
        standardError === null || effect === null
          ? null
          : powerOf(effect / (2 * standardError), df, confidence),
      varianceInflation: standardError === null ? null : inflationOf(estimand, standardError / sigma),
      worstCorrelation: worst.correlation,
      worstCorrelationWith: worst.label,
      correlationWithOrder: correlationOf(contrasts[index], order),
    };
  });
  const judged: Omit<Judgement, "sentences"> = {
    runs: runs.length,
    df,
    dfPureError,
    dfLackOfFit: df - dfPureError,
    efficiency: efficiencyOf(model, information),
    efficiencyReference: EFFICIENCY_REFERENCE,
    sigma,
    effect,
    confidence,
    terms,
    inseparable: inseparableSets(model, information),
  };
  return { ...judged, sentences: judgementSentences(judged, factors, unit) };
}

function refuseOptions(runs: number, sigma: number, effect: number | null, confidence: number): void {
  if (runs === 0) throw new LayoutError("judge: there is no run to judge. Lay the trial out first.");
  if (!(sigma > 0) || !Number.isFinite(sigma)) {
    throw new LayoutError(
      `judge: sigma is ${sigma}; expected the run-to-run standard deviation, above zero.`,
    );
  }
  if (effect !== null && !(effect > 0 && Number.isFinite(effect))) {
    throw new LayoutError(
      `judge: effect is ${effect}; expected the smallest change worth seeing, above zero.`,
    );
  }
  if (!(confidence > 0 && confidence < 1)) {
    throw new LayoutError(
      `judge: confidence is ${confidence}; expected a number between 0 and 1, such as 0.95.`,
    );
  }
}

/**
 * Chance that a two-sided t test at this confidence sees an effect of so many standard errors, on the side on which it lies
 * (being led to the wrong side is not seeing it). Null with no error left.
 */
export function powerOf(standardErrors: number, df: number, confidence: number): number | null {
  if (df < 1) return null;
  const seen = 1 - nonCentralTCdf(tQuantile((1 + confidence) / 2, df), df, standardErrors);
  return Math.min(1, Math.max(0, seen));
}

/** Columns that take part in a dependence: nothing that stands on one of them can be estimated. */
function mixedColumns(information: Information): ReadonlySet<number> {
  return new Set(information.dropped.flatMap(({ column, on }) => [column, ...on.map((part) => part.column)]));
}

function standardErrorOf(
  estimand: ModelEstimand,
  information: Information,
  mixed: ReadonlySet<number>,
  sigma: number,
): number | null {
  const weights = new Float64Array(information.kept.length);
  for (const [index, column] of estimand.columns.entries()) {
    const weight = estimand.weights[index] ?? 0;
    if (weight === 0) continue;
    if (mixed.has(column)) return null;
    weights[information.kept.indexOf(column)] = weight;
  }
  return sigma * Math.sqrt(unitVariance(information, weights));
}

/** Variance beside that of the same column with only the mean in the model. */
function inflationOf(estimand: ModelEstimand, unitStandardError: number): number | null {
  if (estimand.weights.length > 1) return null;
  const mean = estimand.contrast.reduce((sum, value) => sum + value, 0) / estimand.contrast.length;
  const squares = estimand.contrast.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return unitStandardError ** 2 * squares;
}

function worstOf(
  model: ModelColumns,
  contrasts: readonly (Float64Array | undefined)[],
  index: number,
): { readonly correlation: number; readonly label: string } {
  let correlation = 0;
  let label = "";
  model.estimands.forEach((other, place) => {
    if (other.termIndex === model.estimands[index]?.termIndex) return;
    const found = Math.abs(correlationOf(contrasts[index], contrasts[place]));
    if (found > correlation + 1e-12) {
      correlation = found;
      label = other.label;
    }
  });
  return { correlation, label };
}

function inseparableSets(model: ModelColumns, information: Information): Judgement["inseparable"] {
  const texts = new Map<string, readonly string[]>();
  for (const { column, on } of information.dropped) {
    const labels = [
      ...new Set([...on.map((part) => part.column), column].map((place) => model.labels[place] ?? "")),
    ];
    texts.set(labels.join("\u0000"), labels);
  }
  return [...texts.values()].map((labels) => ({
    labels,
    text:
      labels.length === 1
        ? `${labels[0]} never moves in these runs, so it can't be told.`
        : labels.length === 2
          ? `${labels[1]} can't be told from ${labels[0]}: they move together in every run.`
          : `${listed(labels)} can't be told apart: each is a sum of the others in these runs.`,
  }));
}
