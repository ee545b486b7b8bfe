import { refitter, seededRandom, type Refitter } from "../../numerics/index.ts";
import { formatNumber } from "../../units/index.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { toldMatrix } from "../term-values.ts";
import { pText } from "../words.ts";

/** Whether levels scatter alike, judged from what a model with other factors or blocks leaves over. */
export interface ScatterBeside {
  /** Largest standard deviation of a level's residuals over the smallest; null where the smallest is zero. */
  readonly ratio: number | null;
  /** The levels that scatter most and least. */
  readonly most: string;
  readonly least: string;
  readonly p: number;
  /** True where p is below 0.05. */
  readonly evidence: boolean;
  /** Simulated trials behind p. */
  readonly draws: number;
  readonly text: string;
}

/** Beyond so many rows the draws take long, and the eye sees it in the residuals. */
const mostRows = 2000;
/** A level whose residuals carry less than this of a degree of freedom says nothing about its scatter. */
const leastDf = 0.5;

/**
 * Whether the levels of a category scatter alike where blocks or other factors are in the model too: the likelihood ratio of the levels' residual mean squares, each on the degrees of
 * freedom that the fit leaves to its runs, judged by drawing normal responses of even scatter at the same settings and fitting each. The p of such a draw test is exact for normal
 * scatter (Barnard 1963), however the blocks lie: one in twenty clean trials is below 0.05. `draws` (default 999) and `seed` (default 1) are those of the draws;
 * `of`: other values of the same runs, such as their logarithms. Null with weights, random sources, where rows are readings of one run, beyond 2,000 rows, and where fewer than two levels say something.
 *
 * Source of the ratio: Bartlett 1937, Proceedings of the Royal Society A 160, 268–282; of the draws: Barnard 1963, Journal of the Royal Statistical Society B 25, 294; both from memory.
 * Example: three edges, twelve runs each in three blocks, one edge with four times the scatter: p 0.001.
 */
export function scatterBeside(
  fit: Fit,
  factor: string,
  options: { readonly draws?: number; readonly seed?: number; readonly of?: readonly number[] } = {},
): ScatterBeside | null {
  const { draws = 999, seed = 1, of } = options;
  const { rows } = fit;
  if (isMixedFit(fit) || fit.weights !== null || fit.residualDf < 2 || rows.length > mostRows) return null;
  if (new Set(rows.map(({ run }) => run)).size < rows.length) return null;
  const told = toldMatrix(fit);
  const columns = fit.coefficients.map((_, k) => Float64Array.from(told, (row) => row[k]));
  const refits = refitter(columns.map((high) => ({ high })));
  const leftOver = (response: Float64Array): Float64Array => residualsOf(response, columns, refits);
  const levels = levelsOf(fit, factor).filter(({ df }) => df >= leastDf);
  if (levels.length < 2) return null;
  const own = leftOver(Float64Array.from(of ?? rows.map(({ value }) => value)));
  const squares = levels.map(({ at, df }) => at.reduce((sum, i) => sum + own[i] ** 2, 0) / df);
  const [least, most] = [Math.min(...squares), Math.max(...squares)];
  if (!(most > 0)) return null;
  const seen = unevenness(own, levels);
  const random = seededRandom(seed);
  let asLarge = 0;
  for (let draw = 0; draw < draws; draw++) {
    const response = Float64Array.from(rows, () => random.normal());
    if (unevenness(leftOver(response), levels) >= seen) asLarge++;
  }
  const p = (1 + asLarge) / (1 + draws);
  const found = {
    ratio: least > 0 ? Math.sqrt(most / least) : null,
    most: levels[squares.indexOf(most)].level,
    least: levels[squares.indexOf(least)].level,
    p,
  };
  return { ...found, evidence: p < 0.05, draws, text: inWords(found) };
}

interface LevelRows {
  readonly level: string;
  readonly at: readonly number[];
  /** What the fit leaves to the level's residuals. */
  readonly df: number;
}

function levelsOf({ rows, factors }: Fit, name: string): readonly LevelRows[] {
  const levels = factors.find((factor) => factor.name === name)?.levels ?? [];
  return levels.map((level) => {
    const at = rows.flatMap(({ settings }, i) => (String(settings[name]) === level ? [i] : []));
    return { level, at, df: at.reduce((sum, i) => sum + 1 - (rows[i].leverage ?? 1), 0) };
  });
}

function residualsOf(
  response: Float64Array,
  columns: readonly Float64Array[],
  { refit, kept }: Refitter,
): Float64Array {
  const { coefficients } = refit(response);
  const residuals = Float64Array.from(response);
  kept.forEach((column, k) => {
    for (let i = 0; i < residuals.length; i++) residuals[i] -= coefficients[k] * columns[column][i];
  });
  return residuals;
}

/** Twice the log likelihood ratio of a scatter for each level against one for all. */
function unevenness(residuals: Float64Array, levels: readonly LevelRows[]): number {
  let [df, sum, apart] = [0, 0, 0];
  for (const level of levels) {
    const own = level.at.reduce((total, i) => total + residuals[i] ** 2, 0);
    df += level.df;
    sum += own;
    apart += level.df * Math.log(own / level.df);
  }
  return df * Math.log(sum / df) - apart;
}

function inWords({ ratio, most, least, p }: Pick<ScatterBeside, "ratio" | "most" | "least" | "p">): string {
  const size =
    ratio === null
      ? `with ${least} nothing is left over`
      : `what is left over scatters ${formatNumber(ratio, { digits: 2 })} times as much with ${most} as with ${least}`;
  return p < 0.05
    ? `The levels don't scatter alike: ${size} (p ${pText(p)}).`
    : `No difference in scatter was seen (${size}, p ${pText(p)}); with few runs a level a large one could be missed.`;
}
