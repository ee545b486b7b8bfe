import { levelEffects, nestedDiagonal } from "./level-effects.ts";
import { nestedChain, type RandomSource } from "./random-source.ts";
import { form } from "./inference.ts";

const mostCrossed = 3000;

/**
 * The share of each row's own reading in what is told of it (fixed part and levels together): 1 − residual variance·P_ii. `covariance` is that of the
 * directions over the residual variance. Where sources cross each set of rows takes a solution of its own, so the cost grows with the square of the rows, and
 * null is returned beyond 3000 rows.
 */
export function rowLeverages(
  sources: readonly RandomSource[],
  ratios: Float64Array,
  directions: readonly Float64Array[],
  covariance: Float64Array,
): Float64Array | null {
  const diagonal = nestedDiagonal(sources, ratios);
  const { chain } = nestedChain(sources);
  if (diagonal === null && sources[0].level.length > mostCrossed) return null;
  const solved = directions.map((direction) => levelEffects(sources, ratios, direction).residuals);
  const rows = sources[0].level.length;
  const leverage = new Float64Array(rows);
  const at = new Float64Array(directions.length);
  // Rows that share every level with another differ in their place only, so each set is solved once.
  const known = new Map<string, number>();
  const ownPart = (i: number): number => {
    const key = sources.map(({ level }) => level[i]).join(" ");
    let own = known.get(key);
    if (own === undefined) {
      const unit = new Float64Array(rows);
      unit[i] = 1;
      own = levelEffects(sources, ratios, unit).residuals[i];
      known.set(key, own);
    }
    return own;
  };
  for (let i = 0; i < rows; i++) {
    const own = diagonal === null ? ownPart(i) : diagonal[sources[chain[0]].level[i]];
    solved.forEach((column, k) => (at[k] = column[i]));
    leverage[i] = 1 - own + form(covariance, at, at);
  }
  return leverage;
}
