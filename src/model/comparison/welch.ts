import { fTail, mean, variance } from "../../numerics/index.ts";
import { formatNumber } from "../../units/index.ts";
import { pText } from "../words.ts";
import type { OverallTest } from "./comparison.ts";

/** A level's runs in three numbers. */
export interface LevelMoments {
  readonly runs: number;
  readonly mean: number;
  /** Of the mean: variance over runs. */
  readonly variance: number;
}

export function levelMoments(values: readonly number[]): LevelMoments {
  return {
    runs: values.length,
    mean: mean([...values]),
    variance: values.length > 1 ? variance([...values]) / values.length : Number.NaN,
  };
}

export interface WelchDifference {
  readonly difference: number;
  readonly standardError: number;
  readonly df: number;
}

/** Welch and Satterthwaite: standard error of a difference and the degrees of freedom behind it. Null where neither level scatters. */
export function welchDifference(from: LevelMoments, to: LevelMoments): WelchDifference | null {
  const all = from.variance + to.variance;
  if (!(all > 0)) return null;
  // Shares of the whole, so that no variance is squared.
  const [own, other] = [from.variance / all, to.variance / all];
  const df = 1 / (own ** 2 / (from.runs - 1) + other ** 2 / (to.runs - 1));
  return { difference: to.mean - from.mean, standardError: Math.sqrt(all), df };
}

/** Whether any level differs where each scatters in its own way. Source: Welch 1951, Biometrika 38, 330–336. Null where a level does not scatter. */
export function welchOverall(levels: readonly LevelMoments[]): OverallTest | null {
  if (levels.some((level) => !(level.variance > 0))) return null;
  const weights = levels.map((level) => 1 / level.variance);
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const centre = levels.reduce((sum, level, i) => sum + weights[i] * level.mean, 0) / all;
  const groups = levels.length;
  const lack = levels.reduce((sum, level, i) => sum + (1 - weights[i] / all) ** 2 / (level.runs - 1), 0);
  const between = levels.reduce((sum, level, i) => sum + weights[i] * (level.mean - centre) ** 2, 0);
  const f = between / (groups - 1) / (1 + (2 * (groups - 2) * lack) / (groups ** 2 - 1));
  const df = groups - 1;
  const dfScatter = (groups ** 2 - 1) / (3 * lack);
  const p = fTail(f, df, dfScatter);
  return {
    statistic: f,
    df,
    dfScatter,
    p,
    text: `All levels together, each with its own scatter (Welch): F ${formatNumber(f, { digits: 3 })} on ${df} and ${formatNumber(dfScatter, { digits: 3 })}, p ${pText(p)}.`,
  };
}
