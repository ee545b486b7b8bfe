import { levelEffects } from "./level-effects.ts";
import type { RandomSource } from "./random-source.ts";
import { form } from "./inference.ts";

/**
 * The share of each row's own reading in what is told of it (fixed part and levels together): 1 − residual variance·P_ii. `covariance` is that of the
 * directions over the residual variance. One solution a row, so the cost grows with the square of the rows.
 */
export function rowLeverages(
  sources: readonly RandomSource[],
  ratios: Float64Array,
  directions: readonly Float64Array[],
  covariance: Float64Array,
): Float64Array {
  const solved = directions.map((direction) => levelEffects(sources, ratios, direction).residuals);
  const rows = sources[0].level.length;
  const leverage = new Float64Array(rows);
  const at = new Float64Array(directions.length);
  // Rows that share every level with another differ in their place only, so each set is solved once.
  const known = new Map<string, number>();
  for (let i = 0; i < rows; i++) {
    const key = sources.map(({ level }) => level[i]).join(" ");
    let own = known.get(key);
    if (own === undefined) {
      const unit = new Float64Array(rows);
      unit[i] = 1;
      own = levelEffects(sources, ratios, unit).residuals[i];
      known.set(key, own);
    }
    solved.forEach((column, k) => (at[k] = column[i]));
    leverage[i] = 1 - own + form(covariance, at, at);
  }
  return leverage;
}
