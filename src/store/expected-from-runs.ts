import { medianSorted } from "simple-statistics";
import { extent, leastSquares } from "../numerics/index.ts";
import { codedValue, settingsAsCut, type Settings, type Trial } from "../trial/index.ts";

/** What the main effects of other runs lead to expect of a run, as a logarithm, with the scatter of such an expectation. */
export interface ExpectedLog {
  readonly log: number;
  readonly scatter: number;
}

const normalConsistency = 1.482602218505602;
/** Fewer degrees of freedom say nothing about scatter. */
const fewestDf = 4;
const rounds = 15;

/**
 * Fits the logarithms of the other runs by the main effects of the factors, by least absolute deviations (least squares
 * weighted anew by 1/|residual|, Schlossmacher 1973), which a few wild runs don't move, and gives what it expects of this
 * run. Null where the other runs leave fewer than four degrees of freedom.
 */
export function expectedFromRuns(
  trial: Pick<Trial, "spec" | "runs" | "asCut">,
  run: number,
  middles: readonly { readonly run: number; readonly log: number }[],
): ExpectedLog | null {
  const here = designRow(trial, settingsAsCut(trial, run));
  const others = middles.filter((other) => other.run !== run);
  if (others.length < here.length + fewestDf) return null;
  const rows = others.map((other) => designRow(trial, settingsAsCut(trial, other.run)));
  const response = Float64Array.from(others, (other) => other.log);
  const columns = here.map((_, column) => ({ high: Float64Array.from(rows, (row) => row[column]) }));
  let weights = new Float64Array(others.length).fill(1);
  let fit = leastSquares(columns, response, { weights });
  for (let round = 0; round < rounds; round++) {
    const floor = 1e-6 * Math.max(extent(fit.residuals.map(Math.abs))[1], 1e-9);
    weights = fit.residuals.map((residual) => 1 / Math.max(Math.abs(residual), floor));
    fit = leastSquares(columns, response, { weights });
  }
  const df = others.length - fit.rank;
  // What moved in none of the other runs can't be foretold.
  if (df < fewestDf || fit.dropped.some(({ column }) => here[column] !== 0)) return null;
  const apart = Array.from(fit.residuals, Math.abs).sort((a, b) => a - b);
  // As many residuals as there are terms are zero by the method.
  const scatter = normalConsistency * medianSorted(apart.slice(fit.rank)) * Math.sqrt(others.length / df);
  const log = fit.kept.reduce((sum, column, place) => sum + fit.coefficients[place] * here[column], 0);
  const leverage = leverageOf(here, rows, fit.kept);
  return { log, scatter: scatter * Math.sqrt(1 + leverage) };
}

function designRow({ spec }: Pick<Trial, "spec">, settings: Settings): readonly number[] {
  return [
    1,
    ...spec.factors.flatMap((factor) => {
      const setting = settings[factor.name];
      if (factor.kind === "quantity") return [codedValue(factor, Number(setting))];
      return factor.levels.slice(1).map((level) => (setting === level ? 1 : 0));
    }),
  ];
}

/** Variance of the expectation in units of the variance of a run, as if by unweighted least squares. */
function leverageOf(
  here: readonly number[],
  rows: readonly (readonly number[])[],
  kept: readonly number[],
): number {
  const columns = kept.map((column) => ({ high: Float64Array.from(rows, (row) => row[column]) }));
  const { inverseCross, rank } = leastSquares(columns, new Float64Array(rows.length));
  let sum = 0;
  for (let i = 0; i < rank; i++) {
    for (let j = 0; j < rank; j++) sum += here[kept[i]] * inverseCross[i * rank + j] * here[kept[j]];
  }
  return sum;
}
