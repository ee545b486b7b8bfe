import type { Settings } from "../trial/index.ts";
import { settingsSeen, type CutRun, type ReviewedFactor } from "./context.ts";

/** The columns by which one factor enters a main-effects model: one for a quantity, one a level after the first for a category. */
export interface FactorColumns {
  readonly factor: ReviewedFactor;
  readonly columns: readonly Float64Array[];
  readonly row: (settings: Settings) => readonly number[];
}

/** Main-effect columns of each factor over the runs, coded −1 to +1 over the settings seen, without the intercept. */
export function mainEffectColumns(
  factors: readonly ReviewedFactor[],
  runs: readonly CutRun[],
): readonly FactorColumns[] {
  return factors.map((factor) => {
    const row = rowOf(factor, runs);
    const rows = runs.map(({ settings }) => row(settings));
    const columns = rows[0].map((_, column) => Float64Array.from(rows, (values) => values[column]));
    return { factor, columns, row };
  });
}

function rowOf(factor: ReviewedFactor, runs: readonly CutRun[]): FactorColumns["row"] {
  if (factor.kind === "quantity") {
    const seen = settingsSeen(runs, factor.name).map(Number);
    const [low, high] = [seen[0], seen[seen.length - 1]];
    return (settings) => [(2 * Number(settings[factor.name]) - low - high) / (high - low)];
  }
  const others = settingsSeen(runs, factor.name).slice(1);
  return (settings) => others.map((level) => (settings[factor.name] === level ? 1 : 0));
}
