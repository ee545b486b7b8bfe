import { formatNumber, listed } from "../../units/index.ts";
import type { Fit, FittedRow } from "../fit.ts";
import { differenceText } from "../words.ts";

/** A run that took no part in what predicted it; on the scale that was fitted. */
export interface LeftOutRow {
  readonly run: number;
  readonly block: number;
  readonly value: number;
  readonly predicted: number | null;
  /** value − predicted. */
  readonly error: number | null;
}

export interface PredictiveScatter {
  readonly rows: readonly LeftOutRow[];
  /** Root mean square of the errors; null where no run can be predicted from the others. */
  readonly predictiveSd: number | null;
  /** 1 − Σ error² / Σ (value − mean)²; below 0 the mean alone predicts better. Null where it can't be computed. */
  readonly predictiveRSquared: number | null;
  /** Runs that the others can't predict. */
  readonly notPredicted: readonly number[];
}

export function predictiveScatter(
  rows: readonly Pick<FittedRow, "run" | "block" | "value">[],
  predicted: readonly (number | null)[],
  weights: readonly number[] | null,
): PredictiveScatter {
  const told = rows.map(({ run, block, value }, i): LeftOutRow => {
    const here = predicted[i];
    return { run, block, value, predicted: here, error: here === null ? null : value - here };
  });
  let [sum, count, mean, weight] = [0, 0, 0, 0];
  told.forEach(({ error, value }, i) => {
    const w = weights?.[i] ?? 1;
    if (error === null || w === 0) return;
    sum += w * error * error;
    mean += w * value;
    weight += w;
    count++;
  });
  mean /= weight;
  const about = told.reduce(
    (total, { error, value }, i) => total + (error === null ? 0 : (weights?.[i] ?? 1) * (value - mean) ** 2),
    0,
  );
  return {
    rows: told,
    predictiveSd: count === 0 ? null : Math.sqrt(sum / count),
    predictiveRSquared: count > 1 && about > 0 ? 1 - sum / about : null,
    notPredicted: [...new Set(told.filter(({ error }) => error === null).map(({ run }) => run))],
  };
}

/** A scatter in the shop's words: "0.12 µm", or "12 % of its value" on the log scale. */
export function scatterText({ logScale, response }: Pick<Fit, "logScale" | "response">, sd: number): string {
  return logScale
    ? `${formatNumber(100 * Math.expm1(sd), { digits: 2 })} % of its value`
    : `${formatNumber(sd, { digits: 2 })}${differenceText(response.unit)}`;
}

export function notPredictedText(runs: readonly number[]): string {
  if (runs.length === 0) return "";
  const names = runs.length > 8 ? `${runs.length} runs` : `run ${listed(runs.map(String))}`;
  return ` Nothing is known of ${names} without ${runs.length === 1 ? "itself" : "their own readings"}: the others don't reach there.`;
}
