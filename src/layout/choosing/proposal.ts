import type { Factor } from "../../trial/index.ts";
import { categoriesOf } from "../levels.ts";
import type { Candidate } from "./choice.ts";
import type { Family } from "./families.ts";

/** A layout with its replicates and centre runs, not yet laid out. */
export interface Proposal {
  readonly family: string;
  readonly id: string;
  readonly title: string;
  readonly layout: Candidate["layout"];
  readonly replicates: number;
  readonly runs: number;
}

/** In how many places a centre run stands: once at every combination of the categories' levels. */
export function centrePlaces(factors: readonly Factor[]): number {
  return categoriesOf(factors).reduce((product, factor) => product * factor.levels.length, 1);
}

/** Centre runs in all, with so many asked for at each combination of categories. */
function centreRunsOf(family: Family, places: number, replicates: number, centre: number): number {
  // A composite's centre runs belong to each replicate; elsewhere they stand once beside all of them.
  return centre * places * (family.layout.kind === "central-composite" ? replicates : 1);
}

export function runsOf(family: Family, places: number, replicates: number, centre: number): number {
  return family.size * replicates + centreRunsOf(family, places, replicates, centre);
}

/** Kinds whose replicates can be dealt to as many blocks. */
const IN_BLOCKS: readonly string[] = ["factorial", "fraction", "plackett-burman", "orthogonal-array"];

export function proposalOf(
  family: Family,
  places: number,
  {
    replicates,
    centre,
    seed,
    hard,
  }: { readonly replicates: number; readonly centre: number; readonly seed: number; readonly hard: boolean },
): Proposal {
  const suffix = [...(replicates > 1 ? [`x${replicates}`] : []), ...(centre > 0 ? [`centre-${centre}`] : [])];
  return {
    family: family.id,
    id: [family.id, ...suffix].join("-"),
    title: titleOf(family, replicates, centreRunsOf(family, places, replicates, centre)),
    layout: {
      ...family.layout,
      ...(replicates > 1 ? { replicates } : {}),
      // Replicates as blocks set a hard factor up afresh in each, so that the scatter between set-ups is measured.
      ...(hard && replicates > 1 && IN_BLOCKS.includes(family.layout.kind) ? { blocks: replicates } : {}),
      ...(family.centre[1] > 0 ? { centrePoints: centre } : {}),
      seed,
    },
    replicates,
    runs: runsOf(family, places, replicates, centre),
  };
}

function titleOf(family: Family, replicates: number, centreRuns: number): string {
  const times =
    ["", "", ", each run cut twice", ", each run cut three times"][replicates] ??
    `, each run cut ${replicates} times`;
  const joint = /,| with /.test(family.title + times) ? " and" : " with";
  const centre = centreRuns > 0 ? `${joint} ${centreRuns} centre run${centreRuns === 1 ? "" : "s"}` : "";
  return `${family.title}${times}${centre}`;
}
