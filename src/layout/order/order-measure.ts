import { dotProduct } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { StandardRun } from "../layout.ts";
import { hasBorders, piecesOf, type BorderRules } from "./borders.ts";
import type { ChangeRules } from "./setting-changes.ts";
import type { CutClock } from "./cut-clock.ts";

/** What an order is judged by: the runs by index, how long each takes, the contrasts to protect, the borders. */
export interface OrderProblem {
  readonly factors: readonly Factor[];
  readonly runs: readonly StandardRun[];
  /** Minutes of cut, or 1, by run index. */
  readonly durations: Float64Array;
  readonly clock: CutClock;
  readonly contrasts: readonly { readonly label: string; readonly contrast: Float64Array }[];
  readonly borders: BorderRules;
  readonly changes: ChangeRules;
}

/** How far each contrast moves with drift in one order; arrays are by contrast. */
export interface OrderMeasure {
  readonly steady: Float64Array;
  readonly bending: Float64Array;
  /** How strongly a contrast stands between the pieces: 0 where every piece is balanced, 1 where nothing is left within. */
  readonly between: Float64Array;
  /** Piece by place, from 0. */
  readonly pieces: Int32Array;
}

/** Relative to a column's own size: below it a column is rounding noise and counts as zero. */
const NOISE = 1e-12;

/**
 * A function that measures orders of one problem; it keeps its working arrays, so that a search may call it often.
 * Time is minutes of cut up to the middle of each pass, counted from the middle of its piece; piece means are out of all.
 */
export function orderMeasurer(problem: OrderProblem): (order: ArrayLike<number>) => OrderMeasure {
  const { runs, durations, contrasts, borders } = problem;
  const size = runs.length;
  const taken = new Float64Array(size);
  const steadyTime = new Float64Array(size);
  const bendingTime = new Float64Array(size);
  const blocks = new Array<number>(size).fill(0);
  const steady = new Float64Array(contrasts.length);
  const bending = new Float64Array(contrasts.length);
  const between = new Float64Array(contrasts.length);
  const unset = new Int32Array(size);
  const squares = contrasts.map(({ contrast }) => centredSquares(contrast));
  let still: Int32Array | undefined;
  const cuts = hasBorders(borders);
  // Without minutes among the capacities, and without whole plots, the pieces are the same for every order.
  const plots = runs.some((run) => run.wholePlot !== undefined)
    ? new Array<number | undefined>(size).fill(undefined)
    : undefined;
  const fixed = !plots && borders.capacities.every(({ minutes }) => minutes === Infinity);
  return (order) => {
    let clock = 0;
    for (let place = 0; place < size; place += 1) {
      const run = order[place] ?? 0;
      const own = durations[run] ?? 0;
      taken[place] = own;
      blocks[place] = runs[run]?.block ?? 1;
      if (plots) plots[place] = runs[run]?.wholePlot;
      steadyTime[place] = clock + own / 2;
      clock += own;
    }
    const pieces = still ?? (cuts ? piecesOf(taken, blocks, borders, plots) : byBlock(blocks, unset));
    if (fixed && cuts) still = pieces;
    centre(steadyTime, pieces);
    for (let place = 0; place < size; place += 1) bendingTime[place] = (steadyTime[place] ?? 0) ** 2;
    centre(bendingTime, pieces);
    const length = dotProduct(steadyTime, steadyTime);
    const share = length > 0 ? dotProduct(bendingTime, steadyTime) / length : 0;
    for (let place = 0; place < size; place += 1) {
      bendingTime[place] = (bendingTime[place] ?? 0) - share * (steadyTime[place] ?? 0);
    }
    scale(steadyTime);
    scale(bendingTime);
    contrasts.forEach(({ contrast }, index) => {
      let [onSteady, onBending, within] = [0, 0, 0];
      let start = 0;
      while (start < size) {
        let [end, sum, sumSquares] = [start, 0, 0];
        while (end < size && pieces[end] === pieces[start]) {
          const value = contrast[order[end] ?? 0] ?? 0;
          sum += value;
          sumSquares += value * value;
          onSteady += value * (steadyTime[end] ?? 0);
          onBending += value * (bendingTime[end] ?? 0);
          end += 1;
        }
        within += sumSquares - (sum * sum) / (end - start);
        start = end;
      }
      const whole = squares[index] ?? 0;
      const moves = within > NOISE * (1 + whole);
      const root = Math.sqrt(Math.max(0, within));
      steady[index] = moves ? onSteady / root : 0;
      bending[index] = moves ? onBending / root : 0;
      between[index] = whole > 0 ? Math.sqrt(Math.max(0, 1 - within / whole)) : 0;
    });
    return { steady, bending, between, pieces };
  };
}

function byBlock(blocks: readonly number[], pieces: Int32Array): Int32Array {
  let current = 0;
  for (let place = 1; place < blocks.length; place += 1) {
    if (blocks[place] !== blocks[place - 1]) current += 1;
    pieces[place] = current;
  }
  return pieces;
}

/** Takes the mean of each piece out, in place: working arrays of the measurer only. */
function centre(column: Float64Array, pieces: Int32Array): void {
  let start = 0;
  while (start < column.length) {
    let [end, sum] = [start, 0];
    while (end < column.length && pieces[end] === pieces[start]) {
      sum += column[end] ?? 0;
      end += 1;
    }
    const mean = sum / (end - start);
    for (let place = start; place < end; place += 1) column[place] = (column[place] ?? 0) - mean;
    start = end;
  }
}

function scale(column: Float64Array): void {
  let largest = 0;
  for (const value of column) largest = Math.max(largest, Math.abs(value));
  const length = Math.sqrt(dotProduct(column, column));
  if (!(length > NOISE * (1 + largest))) {
    column.fill(0);
    return;
  }
  for (let place = 0; place < column.length; place += 1) column[place] = (column[place] ?? 0) / length;
}

function centredSquares(column: Float64Array): number {
  const mean = column.reduce((sum, value) => sum + value, 0) / column.length;
  return column.reduce((sum, value) => sum + (value - mean) ** 2, 0);
}

/** The largest size in a list of correlations; rounding of exact zeros is zero. */
export function worst(correlations: ArrayLike<number>): number {
  let most = 0;
  for (let index = 0; index < correlations.length; index += 1) {
    most = Math.max(most, Math.abs(correlations[index] ?? 0));
  }
  return most < ROUNDING ? 0 : most;
}

/** Correlations below this are rounding of exact zeros. */
export const ROUNDING = 1e-10;
