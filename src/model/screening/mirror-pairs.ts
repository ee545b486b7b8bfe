import type { Observations } from "../observations.ts";
import { candidateTerms, type CandidateTerm } from "./candidate-terms.ts";

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
  const { pairs, centres, alone } = paired(mains, blocks);
  return alone.length > 0 || pairs.length === 0 ? null : { pairs, centres };
}

/** The observations without the runs whose mirror is missing, in their order: what a screening in two stages can go by when a run has been left out. */
export function mirroredPart(observations: Observations): Observations {
  const mains = candidateTerms(observations).slice(0, observations.factors.length);
  const { alone } = paired(
    mains,
    observations.rows.map(({ block }) => block),
  );
  const left = new Set(alone);
  return left.size === 0
    ? observations
    : { ...observations, rows: observations.rows.filter((_, row) => !left.has(row)) };
}

/** Runs sorted into pairs, the middle, and those that no other run mirrors. */
function paired(
  mains: readonly CandidateTerm[],
  blocks: readonly number[],
): MirrorPairs & { readonly alone: readonly number[] } {
  const open = new Set<number>();
  const centres: number[] = [];
  for (let row = 0; row < blocks.length; row++) {
    if (mains.every(({ column }) => Math.abs(column[row]) < near)) centres.push(row);
    else open.add(row);
  }
  const pairs: [number, number][] = [];
  const alone: number[] = [];
  for (const row of [...open]) {
    if (!open.delete(row)) continue;
    const partner = [...open].find(
      (other) =>
        blocks[other] === blocks[row] &&
        mains.every(({ column }) => Math.abs(column[row] + column[other]) < near),
    );
    if (partner === undefined) {
      alone.push(row);
      continue;
    }
    open.delete(partner);
    pairs.push([row, partner]);
  }
  return { pairs, centres, alone };
}
