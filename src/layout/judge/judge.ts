import { listed } from "../../units/index.ts";
import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import type { Judgement, TermJudgement } from "../judgement.ts";
import { biasesOf, termsLeftOut, worstBiases } from "./bias.ts";
import { correlationOf, standardised } from "./correlation.ts";
import { EFFICIENCY_REFERENCE, efficiencyOf, SPLIT_REFERENCE } from "./efficiency.ts";
import { errorDf } from "./error-df.ts";
import { strataTable, untestedSentences } from "./error-strata.ts";
import type { Information } from "./information.ts";
import type { ModelChoice, ModelColumns, ModelEstimand } from "./model-columns.ts";
import { pureErrorDf } from "./pure-error.ts";
import { runLosses, worstLossOf } from "./run-loss.ts";
import { judgementSentences } from "./sentences.ts";
import { setJudgements, type SetRequest } from "./set-power.ts";
import { termPower } from "./term-power.ts";
import { toldModel, type JudgedRun, type ScatterChoice } from "./told.ts";

export interface JudgeOptions extends ModelChoice, ScatterChoice {
  /** The guess of the run-to-run standard deviation, in the response's unit; of runs on one set-up, where a factor is hard to change. */
  readonly sigma: number;
  /** The smallest change from low to high worth seeing, in the response's unit. */
  readonly effect?: number | null;
  /** Of the intervals, and one less the risk of a false alarm; default 0.95. */
  readonly confidence?: number;
  /** The response's unit, for the sentences. */
  readonly unit?: string;
  /** Terms that the model leaves out and that may be there; default: products and squares not in it, or products of three. */
  readonly omitted?: readonly Term[];
  /** Sets of terms to be tested together, beside those that are always looked at. */
  readonly sets?: readonly SetRequest[];
  /** Minutes in cut of each run, in cutting order; see `minutesInCut`. */
  readonly minutes?: readonly number[] | null;
}

/**
 * What a layout can and can't tell, before a chip is cut.
 *
 * Use it on a plan, or on runs that came from elsewhere. `runs` are in cutting order; settings in the factors' units. The
 * model holds the mean, the blocks and the terms asked for. Returns for each term the standard error of its coded
 * coefficient, the half-width of the interval of its effect from low to high (twice the coefficient; for a category, of one
 * level against the first), the power to see `effect` (noncentral t, two-sided), what it correlates with, how far terms left
 * out would move it; the power of F tests of sets of terms (noncentral F); efficiencies; degrees of freedom; what the loss of
 * each run would cost; and the same in sentences.
 *
 * Where a factor is hard to change, runs that share a set-up (`wholePlotsOf`) share its scatter: standard errors are those of
 * generalised least squares with variance `varianceRatio`·σ² between set-ups (1 unless stated), and each term has the degrees
 * of freedom of the stratum in which it is compared (`errorStrata`). Terms that the runs can't tell apart have null in place of
 * numbers and stand in `inseparable`. Refuses a σ or an effect that is not above zero and a ratio below zero.
 *
 * Example: a 2³ factorial in duplicate, main effects, σ = 1: every standard error is 0.25 and every half-width
 * t(0.975, 12) × 0.5 = 1.089.
 */
export function judge(
  runs: readonly JudgedRun[],
  factors: readonly Factor[],
  options: JudgeOptions,
): Judgement {
  const { sigma, effect = null, confidence = 0.95, unit = "", sets = [], minutes = null } = options;
  refuseOptions(runs.length, sigma, effect, confidence);
  const told = toldModel(runs, factors, options);
  const { model, information, scatter, split } = told;
  const df = errorDf(told);
  const dfPureError = pureErrorDf(factors, runs);
  const free = runs.length - information.kept.length;
  const { omitted = termsLeftOut(factors, model.terms) } = options;
  const biases = biasesOf(
    told,
    factors,
    runs.map(({ settings }) => settings),
    { omitted, effect },
  );
  const worst = worstBiases(biases);
  const times = timesOf(runs.length, minutes);
  const contrasts = model.estimands.map((estimand) => standardised(estimand.contrast));
  const correlations = worstCorrelations(model, contrasts);
  const power = termPower(confidence);
  const inflation = inflations(model, information, scatter.whitened);
  const terms = model.estimands.map((estimand, index): TermJudgement => {
    const variance = told.variances[index] ?? null;
    const standardError = variance === null ? null : sigma * Math.sqrt(variance);
    const own = df.terms[index] ?? { stratum: "runs" as const, df: null };
    const correlation = correlations[index] ?? NO_CORRELATION;
    const bias = worst.get(estimand.label);
    return {
      term: estimand.term,
      label: estimand.label,
      standardError,
      halfWidth: standardError === null || own.df === null ? null : power.limit(own.df) * 2 * standardError,
      power:
        standardError === null || effect === null || own.df === null
          ? null
          : power.of(effect / (2 * standardError), own.df),
      varianceInflation: variance === null ? null : inflation(estimand, variance),
      worstCorrelation: correlation.correlation,
      worstCorrelationWith: correlation.label,
      correlationWithOrder: correlationOf(contrasts[index], times.order),
      correlationWithMinutes: times.minutes ? correlationOf(contrasts[index], times.minutes) : null,
      stratum: own.stratum,
      df: own.df,
      worstBias: bias ? { omitted: bias.omitted, share: bias.share, shift: bias.shift } : null,
    };
  });
  const losses = runLosses(told);
  const judged: Omit<Judgement, "sentences"> = {
    runs: runs.length,
    df: free,
    dfPureError,
    dfLackOfFit: free - dfPureError,
    efficiency: efficiencyOf(model, information, factors),
    efficiencyReference: split ? SPLIT_REFERENCE : EFFICIENCY_REFERENCE,
    sigma,
    varianceRatio: scatter.hard.length > 0 ? scatter.ratio : null,
    effect,
    confidence,
    terms,
    sets: setJudgements(told, df, {
      factors,
      effect: effect === null ? null : effect / sigma,
      confidence,
      sets,
    }),
    inseparable: inseparableSets(model, information),
    strata: strataTable(told, df, runs, factors),
    biases,
    losses,
    worstLoss: worstLossOf(losses),
  };
  return { ...judged, sentences: judgementSentences(judged, factors, unit, untestedSentences(told, df)) };
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

/** Place in cutting order, and minutes of cut from the first chip to the middle of each run. */
function timesOf(
  runs: number,
  minutes: readonly number[] | null,
): { readonly order: Float64Array | undefined; readonly minutes: Float64Array | undefined } {
  const order = standardised(Float64Array.from({ length: runs }, (_, index) => index));
  if (minutes === null) return { order, minutes: undefined };
  if (minutes.length !== runs || minutes.some((value) => !(value >= 0 && Number.isFinite(value)))) {
    throw new LayoutError(
      `judge: minutes holds ${minutes.length} numbers for ${runs} runs; expected one a run, 0 or above, in cutting order.`,
    );
  }
  let before = 0;
  const middles = Float64Array.from(minutes, (value) => {
    const middle = before + value / 2;
    before += value;
    return middle;
  });
  // Where no time is cut at all, nothing moves with it.
  return { order, minutes: standardised(middles) ?? new Float64Array(runs) };
}

/** Variance of a coefficient beside that of the same column with only the mean in the model. */
function inflations(
  model: ModelColumns,
  information: Information,
  whitened: (column: Float64Array) => Float64Array,
): (estimand: ModelEstimand, variance: number) => number | null {
  const ones = whitened(model.columns[0] ?? new Float64Array(information.rows));
  const square = ones.reduce((sum, value) => sum + value * value, 0);
  return (estimand, variance) => {
    if (estimand.weights.length > 1) return null;
    const column = whitened(estimand.contrast);
    const along = column.reduce((sum, value, row) => sum + value * (ones[row] ?? 0), 0) / square;
    const alone = column.reduce((sum, value, row) => sum + (value - along * (ones[row] ?? 0)) ** 2, 0);
    return variance * alone;
  };
}

const NO_CORRELATION = { correlation: 0, label: "" };

/** For each estimand the other term with which it moves most; each pair is looked at once. */
function worstCorrelations(
  model: ModelColumns,
  contrasts: readonly (Float64Array | undefined)[],
): readonly { readonly correlation: number; readonly label: string }[] {
  const worst = model.estimands.map(() => NO_CORRELATION);
  const note = (place: number, correlation: number, other: number) => {
    if (correlation > (worst[place]?.correlation ?? 0) + 1e-12)
      worst[place] = { correlation, label: model.estimands[other]?.label ?? "" };
  };
  model.estimands.forEach((estimand, one) => {
    for (let other = one + 1; other < model.estimands.length; other += 1) {
      if (model.estimands[other]?.termIndex === estimand.termIndex) continue;
      const found = Math.abs(correlationOf(contrasts[one], contrasts[other]));
      note(one, found, other);
      note(other, found, one);
    }
  });
  return worst;
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
