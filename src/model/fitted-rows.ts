import type { FittedRow } from "./fit.ts";
import type { Solved } from "./solved.ts";

/** A row that decides its own fitted value to within this share has no residual to speak of. */
const decides = 1e-10;

/**
 * Each row with its fitted value, residual, leverage, externally studentised residual (its scatter judged without the row itself) and
 * Cook's distance (Cook 1977, Technometrics 19, 15–18). Both are null where they can't be computed: too few degrees of freedom, no
 * scatter, or a row that decides its own fitted value.
 */
export function fittedRows({
  observations,
  response,
  solution,
  weights,
  variance,
}: Solved): readonly FittedRow[] {
  const { fitted, residuals, leverage, residualSumOfSquares, df, rank } = solution;
  return observations.rows.map((row, i) => {
    const weight = weights?.[i] ?? 1;
    const free = 1 - leverage[i];
    const scaled = weight * residuals[i] ** 2;
    const usable = variance !== null && variance > 0 && free > decides && weight > 0;
    const without = usable && df > 1 ? (residualSumOfSquares - scaled / free) / (df - 1) : 0;
    // What is left without this row may be rounding alone: then the row is the whole scatter.
    const measurable = without > 1e-12 * (residualSumOfSquares / Math.max(df, 1));
    return {
      // Named one by one: this is a row an observation, and spreading it costs more than all else here.
      run: row.run,
      order: row.order,
      block: row.block,
      settings: row.settings,
      value: response[i],
      readings: row.readings,
      single: row.single,
      fitted: fitted[i],
      residual: residuals[i],
      leverage: leverage[i],
      studentised:
        usable && measurable ? (Math.sqrt(weight) * residuals[i]) / Math.sqrt(without * free) : null,
      cookDistance: usable ? (scaled * leverage[i]) / (rank * variance * free * free) : null,
    };
  });
}
