import type { CandidateTerm } from "./candidate-terms.ts";

/** Runs sorted into pairs that mirror one another through the middle, and runs at the middle itself. */
export interface MirrorPairs {
  readonly pairs: readonly (readonly [number, number])[];
  readonly centres: readonly number[];
}

const near = 1e-9;

/**
 * The mirror pairs of a fold-over layout (definitive screening, a folded fraction): each run with one whose coded settings are all reversed, in the
 * same block. Null where a run has no partner: then main effects don't stand clear of products and squares.
 */
export function mirrorPairs(mains: readonly CandidateTerm[], blocks: readonly number[]): MirrorPairs | null {
  const rows = blocks.length;
  const open = new Set<number>();
  const centres: number[] = [];
  for (let row = 0; row < rows; row++) {
    if (mains.every(({ column }) => Math.abs(column[row]) < near)) centres.push(row);
    else open.add(row);
  }
  const pairs: [number, number][] = [];
  for (const row of [...open]) {
    if (!open.delete(row)) continue;
    const partner = [...open].find(
      (other) =>
        blocks[other] === blocks[row] &&
        mains.every(({ column }) => Math.abs(column[row] + column[other]) < near),
    );
    if (partner === undefined) return null;
    open.delete(partner);
    pairs.push([row, partner]);
  }
  return pairs.length === 0 ? null : { pairs, centres };
}
