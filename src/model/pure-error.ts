import { fTail } from "../numerics/index.ts";
import type { Setting } from "../trial/index.ts";
import type { LackOfFit } from "./fit.ts";
import type { Observation, Observations } from "./observations.ts";
import type { Solved } from "./solved.ts";

/** Scatter of rows that were cut at the same settings. */
export interface PureError {
  readonly sumOfSquares: number;
  readonly df: number;
}

/**
 * The scatter within sets of exact replicates: rows whose settings of every observed factor (those not in the model too) agree to the
 * last digit. Where blocks are fitted, rows must share their block as well: two runs of one setting in two blocks differ by the blocks,
 * and that difference is not scatter of the cut. (The part that the fitted block effects would leave over is counted as lack of fit.)
 */
export function pureError(solved: Solved): PureError {
  const { observations, response, weights, blocked } = solved;
  const sets = new Map<number, number[]>();
  const codes = replicateCodes(observations, blocked);
  if (codes === null) return { sumOfSquares: 0, df: 0 };
  codes.forEach((code, i) => {
    if (weights?.[i] === 0) return;
    const set = sets.get(code);
    if (set === undefined) sets.set(code, [i]);
    else set.push(i);
  });
  let sumOfSquares = 0;
  let df = 0;
  for (const set of sets.values()) {
    if (set.length < 2) continue;
    const weightOf = (i: number): number => weights?.[i] ?? 1;
    // About the first of the set: readings that share their leading digits keep the rest.
    const first = response[set[0]];
    let total = 0;
    let offset = 0;
    for (const i of set) {
      total += weightOf(i);
      offset += weightOf(i) * (response[i] - first);
    }
    const mean = offset / total;
    for (const i of set) sumOfSquares += weightOf(i) * (response[i] - first - mean) ** 2;
    df += set.length - 1;
  }
  return { sumOfSquares, df };
}

/**
 * One number for each set of rows with the same settings (and block); null as soon as no two rows can be alike. Numbers are
 * narrowed down factor by factor, since text made of all settings costs more than the fit itself.
 */
function replicateCodes({ rows, factors }: Observations, blocked: boolean): Int32Array | null {
  const codes = new Int32Array(rows.length);
  let count = 1;
  const narrow = (valueOf: (row: Observation) => Setting): void => {
    const seen = new Map<Setting, number>();
    const combined = new Map<number, number>();
    for (let i = 0; i < rows.length; i++) {
      const value = valueOf(rows[i]);
      let place = seen.get(value);
      if (place === undefined) seen.set(value, (place = seen.size));
      const pair = place * count + codes[i];
      let code = combined.get(pair);
      if (code === undefined) combined.set(pair, (code = combined.size));
      codes[i] = code;
    }
    count = combined.size;
  };
  if (blocked) narrow((row) => row.block);
  for (const { name } of factors) {
    if (count === rows.length) return null;
    narrow((row) => row.settings[name]);
  }
  return count === rows.length ? null : codes;
}

/** Residual scatter beyond the pure error, as an F test; or the reason why there can be none. */
export function lackOfFit(solved: Solved, pure: PureError): LackOfFit | string {
  const { df, residualSumOfSquares } = solved.solution;
  if (pure.df === 0) {
    const where = solved.blocked ? " within one block" : "";
    return `No setting was cut twice${where}, so there is no pure error to judge the fit against.`;
  }
  const dfLack = df - pure.df;
  if (dfLack <= 0)
    return "The model has a value of its own for every setting that was cut, so no lack of fit can show.";
  if (pure.sumOfSquares === 0)
    return "All replicates read exactly alike, so their scatter can't serve as a measure.";
  const sumOfSquaresLack = Math.max(0, residualSumOfSquares - pure.sumOfSquares);
  const f = sumOfSquaresLack / dfLack / (pure.sumOfSquares / pure.df);
  return {
    f,
    p: fTail(f, dfLack, pure.df),
    dfLack,
    dfPure: pure.df,
    sumOfSquaresLack,
    sumOfSquaresPure: pure.sumOfSquares,
  };
}
