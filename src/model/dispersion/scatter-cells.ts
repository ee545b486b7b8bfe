import { chiSquareQuantile, tQuantile } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Fit, Uncertain } from "../fit.ts";
import { settingsKey } from "../observe.ts";
import { interval, withReason } from "../words.ts";

/** Runs at one setting, or readings of one run, with their middle and their scatter. */
export interface ScatterCell {
  readonly settings: Readonly<Record<string, Setting>>;
  readonly block: number;
  /** Runs of the setting, or the one run. */
  readonly runs: readonly number[];
  readonly readings: number;
  readonly mean: Uncertain;
  /** With its interval by χ²; no interval where all read the same. */
  readonly standardDeviation: Uncertain;
  readonly df: number;
}

/** Where the scatter comes from: fresh runs at the same settings, or readings of one run. */
export type ScatterOf = "runs" | "readings";

/** Cells of two values or more; on a log scale the values are logarithms. Refuses where there are none. */
export function scatterCells(fit: Fit, of: ScatterOf): readonly ScatterCell[] {
  const cells = new Map<string, { values: number[]; first: Fit["rows"][number]; runs: number[] }>();
  for (const row of fit.rows) {
    const key = of === "runs" ? settingsKey(row.settings, row.block) : `run ${row.run} ${row.order}`;
    const values =
      of === "runs" ? [row.value] : row.single.map((value) => (fit.logScale ? Math.log(value) : value));
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, { values: [...values], first: row, runs: [row.run] });
    else {
      for (const value of values) cell.values.push(value);
      cell.runs.push(row.run);
    }
  }
  const used = [...cells.values()].filter(({ values }) => values.length >= 2);
  if (used.length === 0) {
    throw modelError(
      of === "runs" ? "no setting that was cut twice" : "no run that was read twice",
      of === "runs" ? "replicates to show the scatter" : "several readings of a run",
      of === "runs"
        ? "Ask for scatter from the residuals, or cut replicates."
        : "Ask for the scatter between runs.",
    );
  }
  return used.map(({ values, first, runs }) => {
    const df = values.length - 1;
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / df;
    return {
      settings: first.settings,
      block: first.block,
      runs,
      readings: values.length,
      mean: meanInterval(mean, variance, values.length, fit),
      standardDeviation: deviationInterval(variance, df, fit.confidence),
      df,
    };
  });
}

function meanInterval(mean: number, variance: number, count: number, fit: Fit): Uncertain {
  const told = (value: number): number => (fit.logScale ? Math.exp(value) : value);
  if (!(variance > 0)) return withReason(told(mean), "all read the same");
  const half = tQuantile((1 + fit.confidence) / 2, count - 1) * Math.sqrt(variance / count);
  return interval(told(mean), told(mean - half), told(mean + half), fit.confidence);
}

/** A standard deviation with its interval by χ². */
export function deviationInterval(variance: number, df: number, confidence: number): Uncertain {
  const estimate = Math.sqrt(variance);
  if (!(variance > 0))
    return withReason(0, "all read the same, so the scatter is below what the gauge shows");
  const end = (probability: number): number => estimate * Math.sqrt(df / chiSquareQuantile(probability, df));
  return interval(estimate, end((1 + confidence) / 2), end((1 - confidence) / 2), confidence);
}
