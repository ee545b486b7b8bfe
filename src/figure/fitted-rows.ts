import { figureError, requireFinite } from "./error.ts";
import type { Fit, FittedRow } from "../model/index.ts";

/** The mean of a run's readings on the response's own scale: the geometric one where the fit was made on logarithms. */
export function runMean(row: FittedRow, fit: Fit): number {
  const { single } = row;
  if (single.length === 0) return fit.logScale ? Math.exp(row.value) : row.value;
  const sum = single.reduce((total, value) => total + (fit.logScale ? Math.log(value) : value), 0);
  return fit.logScale ? Math.exp(sum / single.length) : sum / single.length;
}

/** Every reading behind a row; the row's value where it came without. */
export function readingsOf(row: FittedRow, fit: Fit): readonly number[] {
  return row.single.length > 0 ? row.single : [fit.logScale ? Math.exp(row.value) : row.value];
}

/** The rows of a fit, checked once at the door of each figure. */
export function rowsToDraw(fit: Fit): readonly FittedRow[] {
  if (fit.rows.length === 0) {
    throw figureError({
      given: `a fit of ${fit.response.name} without rows`,
      expected: "at least one run with a reading",
      mend: "Record a reading first.",
    });
  }
  for (const row of fit.rows) {
    const where = `${fit.response.name} of run ${row.run}`;
    for (const value of row.single) requireFinite(value, where);
    requireFinite(row.value, where);
  }
  return fit.rows;
}

/** "12 runs, 36 readings". */
export function countText(fit: Fit): string {
  const readings = fit.rows.reduce((sum, row) => sum + Math.max(row.readings, 1), 0);
  const runs = `${fit.rows.length} ${fit.rows.length === 1 ? "run" : "runs"}`;
  return readings === fit.rows.length ? `${runs}, one reading each` : `${runs}, ${readings} readings`;
}

/** "95 %". */
export function confidenceText(confidence: number): string {
  return `${Number((confidence * 100).toPrecision(6))} %`;
}
