import { tQuantile } from "../numerics/index.ts";
import type { Setting } from "../trial/index.ts";
import { combined, pointAt } from "./at-point.ts";
import { modelError } from "./error.ts";
import type { Prediction } from "./fit.ts";
import type { Solved } from "./solved.ts";
import { requireReached } from "./usual-size.ts";
import { rounded, percent, settingWithUnit, unitText } from "./words.ts";

/**
 * The mean response and a single run at stated settings, on the response's own scale. On the log scale what is told is the median
 * (the back-transformed mean of logarithms): half of the runs fall below it. A single run is one row as the fit had it: the mean of its
 * readings where runs were read several times. With weights no single run is told, since its weight is not known.
 */
export function predictor(
  solved: Solved,
  noInterval: string,
): (at: Readonly<Record<string, Setting>>, options?: { confidence?: number }) => Prediction {
  const { solution, design } = solved;
  let farthest = 0;
  solution.leverage.forEach((leverage, i) => {
    const weight = solved.weights?.[i] ?? 1;
    // Leverage holds the weight of the row; what a point itself would have is the same without it.
    if (weight > 0) farthest = Math.max(farthest, leverage / weight);
  });
  let known: Cut | null = null;
  // Looked up with the first prediction: most fits are never asked for one.
  const cut = (): Cut => (known ??= settingsCut(solved));
  const reachAt = quantileOf(solution.df);
  return (at, options = {}) => {
    const { confidence = solved.confidence } = options;
    checkConfidence(confidence);
    const full = completed(solved, at);
    const { estimate, cross, estimable } = combined(solved, pointAt(solved, full));
    const back = (value: number): number => (solved.logScale ? Math.exp(value) : value);
    const extrapolation = outside(cut(), full);
    if (!estimable) extrapolation.push("terms that these runs can't tell apart");
    else if (extrapolation.length === 0 && cross > farthest * (1 + 1e-6))
      extrapolation.push(`the combination of ${design.factors.map(({ name }) => name).join(" and ")}`);
    const range = (spread: number): { low: number; high: number } => {
      const half = reachAt(confidence) * Math.sqrt(spread);
      return { low: back(estimate - half), high: back(estimate + half) };
    };
    const variance = solved.variance !== null && estimable ? solved.variance : null;
    const mean = variance === null ? null : range(variance * cross);
    const single = variance === null || solved.weights !== undefined ? null : range(variance * (1 + cross));
    const answer = { at: full, estimate: back(estimate), mean, single, confidence, extrapolation };
    requireReached(
      [answer.estimate, mean?.low ?? null, mean?.high ?? null, single?.low ?? null, single?.high ?? null],
      `a prediction at ${placeText(solved, full)}`,
    );
    const reason = estimable ? noInterval : "it hangs on terms that these runs can't tell apart";
    return {
      ...answer,
      // Made when read: a search for a recipe asks for thousands of predictions and reads none of them.
      get text() {
        return predictionText(solved, answer, reason);
      },
    };
  };
}

export function checkConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1))
    throw modelError(`a confidence of ${confidence}`, "a number between 0 and 1, such as 0.95");
}

/** The t quantile of a two-sided interval; the last one asked for is kept, since a search asks for the same thousands of times. */
function quantileOf(df: number): (confidence: number) => number {
  let last = { confidence: NaN, reach: NaN };
  return (confidence) => {
    if (confidence !== last.confidence) last = { confidence, reach: tQuantile((1 + confidence) / 2, df) };
    return last.reach;
  };
}

/** The settings with those left out filled in: the middle of a quantity, the first level of a category. */
export function completed(
  { design }: Solved,
  at: Readonly<Record<string, Setting>>,
): Readonly<Record<string, Setting>> {
  const full: Record<string, Setting> = { ...at };
  design.factors.forEach((factor, index) => {
    const given = Object.hasOwn(full, factor.name) ? full[factor.name] : undefined;
    if (factor.kind === "category") {
      full[factor.name] = given === undefined ? factor.levels[0] : String(given);
    } else if (given === undefined) {
      const elementary = design.elementaries.find((one) => one.factor === index)!;
      full[factor.name] = elementary.logarithm ? Math.exp(elementary.middle) : elementary.middle;
    }
  });
  return full;
}

/** The settings that were cut: lowest and highest of a quantity, the levels of a category. */
export type Cut = readonly {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly levels: ReadonlySet<Setting> | null;
}[];

/** What was cut of each factor that the model holds. */
export function settingsCut({ design, observations }: Solved): Cut {
  const inModel = new Set(design.sources.flatMap(({ term }) => Object.keys(term)));
  return design.factors
    .filter(({ name }) => inModel.has(name))
    .map(({ name, kind }) => {
      if (kind === "category")
        return { name, low: 0, high: 0, levels: new Set(observations.rows.map((row) => row.settings[name])) };
      let low = Infinity;
      let high = -Infinity;
      for (const row of observations.rows) {
        low = Math.min(low, Number(row.settings[name]));
        high = Math.max(high, Number(row.settings[name]));
      }
      return { name, low, high, levels: null };
    });
}

export function outside(cut: Cut, at: Readonly<Record<string, Setting>>): string[] {
  return cut
    .filter(({ name, low, high, levels }) => {
      if (levels !== null) return !levels.has(at[name]);
      const slack = 1e-9 * (high - low);
      return Number(at[name]) < low - slack || Number(at[name]) > high + slack;
    })
    .map(({ name }) => name);
}

function placeText({ design }: Solved, at: Readonly<Record<string, Setting>>): string {
  return design.factors.map((factor) => settingWithUnit(factor, at[factor.name])).join(", ");
}

export function predictionText(solved: Solved, prediction: Omit<Prediction, "text">, reason: string): string {
  const { at, estimate, mean, single, confidence, extrapolation } = prediction;
  const { observations } = solved;
  const unit = unitText(observations.response.unit);
  const name = solved.logScale ? `the median of ${observations.response.name}` : observations.response.name;
  const half = mean === null ? Math.abs(estimate) / 100 : (mean.high - mean.low) / 2;
  const start = `At ${placeText(solved, at)} ${name} is ${rounded(estimate, half)}${unit}`;
  const warn = extrapolation.length === 0 ? "" : ` Outside what was cut: ${extrapolation.join(", ")}.`;
  if (mean === null) return `${start} (no interval: ${reason}).${warn}`;
  const inWords = (range: { low: number; high: number }): string =>
    `${rounded(range.low, half)} to ${rounded(range.high, half)}${unit}`;
  const one = single === null ? "" : `; a single run ${inWords(single)}`;
  return `${start} (${percent(confidence)} ${inWords(mean)}${one}).${warn}`;
}
