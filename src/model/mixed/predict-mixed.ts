import { tQuantile } from "../../numerics/index.ts";
import type { MixedInference } from "../../numerics/index.ts";
import { combined, pointAt } from "../at-point.ts";
import { checkConfidence, completed, outside, predictionText, settingsCut } from "../predict.ts";
import type { Solved } from "../solved.ts";
import { requireReached } from "../usual-size.ts";
import { percent, rounded, unitText } from "../words.ts";
import type { MixedFit } from "./mixed-fit.ts";

/** Which variances a fresh run and a fresh reading bring with them; null where readings are not known from runs. */
export interface Fresh {
  readonly run: readonly number[];
  readonly reading: readonly number[] | null;
}

/** The mean over all days, plots and parts; one run on fresh ones; one reading on such a run. On the log scale, medians. */
export function mixedPredictor(solved: Solved, mixed: MixedInference, fresh: Fresh): MixedFit["predict"] {
  const cut = settingsCut(solved);
  const back = (value: number): number => (solved.logScale ? Math.exp(value) : value);
  return (at, options = {}) => {
    const { confidence = solved.confidence } = options;
    checkConfidence(confidence);
    const full = completed(solved, at);
    const point = pointAt(solved, full);
    const { estimate, estimable } = combined(solved, point);
    const extrapolation = outside(cut, full);
    if (!estimable) extrapolation.push("terms that these runs can't tell apart");
    const multiples = Float64Array.from(solved.solution.kept, (column) => point[column]);
    const range = (sources: readonly number[]): { low: number; high: number } | null => {
      if (!estimable) return null;
      const { standardError, df } = mixed.contrast(multiples, { fresh: sources });
      const half = tQuantile((1 + confidence) / 2, df) * standardError;
      return { low: back(estimate - half), high: back(estimate + half) };
    };
    const answer = {
      at: full,
      estimate: back(estimate),
      mean: range([]),
      single: range(fresh.run),
      confidence,
      extrapolation,
    };
    requireReached(
      [
        answer.estimate,
        answer.mean?.low ?? null,
        answer.mean?.high ?? null,
        answer.single?.low ?? null,
        answer.single?.high ?? null,
      ],
      "a prediction",
    );
    const reading = fresh.reading === null ? null : range(fresh.reading);
    return {
      ...answer,
      reading,
      get text() {
        const text = predictionText(solved, answer, "it hangs on terms that these runs can't tell apart");
        if (reading === null) return text;
        const half = (reading.high - reading.low) / 2;
        return `${text} A single reading: ${percent(confidence)} ${rounded(reading.low, half)} to ${rounded(reading.high, half)}${unitText(solved.observations.response.unit)}.`;
      },
    };
  };
}
