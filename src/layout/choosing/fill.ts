import type { Factor } from "../../trial/index.ts";
import { categoriesOf } from "../levels.ts";
import type { Candidate } from "./choice.ts";
import type { Family } from "./propose.ts";

/** A layout with its replicates and centre runs, not yet laid out. */
export interface Proposal {
  readonly id: string;
  readonly title: string;
  readonly layout: Candidate["layout"];
  readonly runs: number;
}

/** Replicates beyond this are left to a trial with another question. */
const MOST_REPLICATES = 16;

/** A family filled up to the passes: once, as often as it fits, both with centre runs where it takes them. */
export function filled(
  family: Family,
  factors: readonly Factor[],
  passes: number,
  seed: number,
): readonly Proposal[] {
  const { size, replicable } = family;
  if (size > passes) return [];
  const most = replicable ? Math.min(MOST_REPLICATES, Math.floor(passes / size)) : 1;
  const combined = categoriesOf(factors).reduce((product, factor) => product * factor.levels.length, 1);
  const proposals = new Map<string, Proposal>();
  for (const replicates of new Set([1, 2, most].filter((count) => count <= most))) {
    const [fewest, upTo] = family.centre;
    const left = Math.floor((passes - size * replicates) / combined);
    for (const centre of new Set([fewest, Math.min(upTo, left)])) {
      if (centre < fewest || centre > left) continue;
      const made = proposal(family, replicates, centre, combined, seed);
      proposals.set(made.id, made);
    }
  }
  return [...proposals.values()];
}

function proposal(
  family: Family,
  replicates: number,
  centre: number,
  combined: number,
  seed: number,
): Proposal {
  const takesCentre = family.centre[1] > 0;
  // A composite's centre runs belong to each replicate; elsewhere they stand once beside all replicates.
  const perReplicate = family.layout.kind === "central-composite" ? replicates : 1;
  return {
    id: [
      family.id,
      ...(replicates > 1 ? [`x${replicates}`] : []),
      ...(centre > 0 ? [`centre-${centre}`] : []),
    ].join("-"),
    title: titleOf(family, replicates, centre, combined),
    layout: {
      ...family.layout,
      ...(replicates > 1 ? { replicates } : {}),
      ...(takesCentre ? { centrePoints: centre } : {}),
      seed,
    },
    runs: family.size * replicates + centre * combined * perReplicate,
  };
}

function titleOf(family: Family, replicates: number, centre: number, combined: number): string {
  const times =
    ["", "", ", each run cut twice", ", each run cut three times"][replicates] ??
    `, each run cut ${replicates} times`;
  const runs = centre * combined;
  return `${family.title}${times}${runs > 0 ? `, ${runs} centre run${runs === 1 ? "" : "s"}` : ""}`;
}
