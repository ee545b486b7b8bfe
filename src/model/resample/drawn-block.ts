/** Draws are made in blocks of so many, each from a stream of chance of its own, so that the outcome does not depend on how many threads share them. */
export const BLOCK = 500;

/** What came of one block of draws. */
export interface DrawnBlock {
  /** draws × figures of each, draw by draw. */
  readonly values: Float64Array;
  readonly made: number;
  /** Draws that were thrown away, because their runs could not tell the terms apart. */
  readonly again: number;
}

export function blocksOf(draws: number): number {
  return Math.ceil(draws / BLOCK);
}
