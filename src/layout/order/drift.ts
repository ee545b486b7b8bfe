import { dotProduct } from "../../numerics/index.ts";
import { main, type Term } from "../../model/index.ts";
import type { Factor, Settings } from "../../trial/index.ts";
import { termColumns, type Estimand } from "../coded-columns.ts";

/** How strongly something moves with a steady (degree 1) or a bending (degree 2) drift; block means are taken out of both. */
export interface DriftCorrelation {
  readonly label: string;
  readonly linear: number;
  readonly quadratic: number;
}

/** Contrasts, run by run, of the terms to be kept clear of drift: those given, else the main effects. What never moves is left out. */
export function protectedContrasts(
  factors: readonly Factor[],
  runs: readonly Settings[],
  protect: readonly Term[] = factors.map((factor) => main(factor.name)),
): readonly Estimand[] {
  return protect
    .flatMap((term) => termColumns(factors, term, runs).estimands)
    .filter((estimand) => new Set(estimand.contrast).size > 1);
}

/** A column less its block means. */
export function withinBlocks(column: ArrayLike<number>, blocks: readonly number[]): Float64Array {
  const sums = new Map<number, { sum: number; count: number }>();
  blocks.forEach((block, index) => {
    const so = sums.get(block) ?? { sum: 0, count: 0 };
    sums.set(block, { sum: so.sum + (column[index] ?? 0), count: so.count + 1 });
  });
  return Float64Array.from(blocks, (block, index) => {
    const { sum, count } = sums.get(block) ?? { sum: 0, count: 1 };
    return (column[index] ?? 0) - sum / count;
  });
}

/**
 * Steady and bending drift over the times given, block means taken out, each of length 1 (or all 0 where no time is left).
 * The bending part is what a square of time adds to a steady drift; in each block it is measured from the block's own middle,
 * because a new block starts with a new edge or a new set-up.
 */
export function driftColumns(
  times: ArrayLike<number>,
  blocks: readonly number[],
): { readonly linear: Float64Array; readonly quadratic: Float64Array } {
  const linear = withinBlocks(times, blocks);
  const bend = withinBlocks(
    linear.map((time) => time * time),
    blocks,
  );
  const square = dotProduct(linear, linear);
  const share = square > 0 ? dotProduct(bend, linear) / square : 0;
  return {
    linear: unit(linear),
    quadratic: unit(bend.map((value, index) => value - share * (linear[index] ?? 0))),
  };
}

/** Relative to the column's own size: below it a column is rounding noise and counts as zero. */
const NOISE = 1e-12;

function unit(column: Float64Array): Float64Array {
  const length = Math.sqrt(dotProduct(column, column));
  const largest = column.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (!(length > NOISE * (1 + largest))) return new Float64Array(column.length);
  return column.map((value) => value / length);
}

/** Correlation of a contrast with unit-length drift, block means out of both; 0 where the contrast moves only between blocks. */
export function driftCorrelation(
  contrast: Float64Array,
  drift: Float64Array,
  blocks: readonly number[],
): number {
  const within = withinBlocks(contrast, blocks);
  const length = Math.sqrt(dotProduct(within, within));
  if (length < NOISE * Math.sqrt(contrast.length)) return 0;
  return dotProduct(within, drift) / length;
}
