import type { Factor, RunRole, Settings } from "../trial/index.ts";
import { MOST_RUNS } from "./common-options.ts";
import { LayoutError } from "./error.ts";
import { categoryCombinations, middleSettings, quantitiesOf } from "./levels.ts";
import type { StandardRun } from "./layout.ts";

/** A run that has no number yet. */
export interface UnnumberedRun {
  readonly block: number;
  readonly role: RunRole;
  readonly settings: Settings;
}

/** Numbers runs in standard order. */
export function numbered(runs: readonly UnnumberedRun[]): readonly StandardRun[] {
  return runs.map((run, index) => ({ standard: index + 1, ...run }));
}

/** The block of each replicate where whole replicates are dealt to blocks; refused where they don't go round. */
export function blocksOfReplicates(kind: string, replicates: number, blocks: number): readonly number[] {
  if (replicates % blocks !== 0) {
    const up = Math.ceil(replicates / blocks) * blocks;
    throw new LayoutError(
      `layout "${kind}": ${replicates} replicate${replicates === 1 ? "" : "s"} can't be dealt evenly to ${blocks} blocks. Take ${up} replicates, or blocks: 1.`,
    );
  }
  return Array.from(
    { length: replicates },
    (_, replicate) => Math.floor((replicate * blocks) / replicates) + 1,
  );
}

/** Refuses centre runs that would be too many over all combinations of categories; says how many would do. */
export function refuseTooManyCentreRuns(factors: readonly Factor[], count: number): void {
  if (count === 0) return;
  const combined = categoryCombinations(factors).length;
  if (count * combined <= MOST_RUNS) return;
  throw new LayoutError(
    `layout.centrePoints: ${count.toLocaleString("en")} at each of the ${combined.toLocaleString("en")} combinations of categories are ${(count * combined).toLocaleString("en")} runs, more than the ${MOST_RUNS.toLocaleString("en")} that can be laid out. Take at most ${Math.floor(MOST_RUNS / combined)}.`,
  );
}

/** Centre runs: so many at each combination of the categories' levels, dealt to the blocks in turn. */
export function centreRuns(
  kind: string,
  factors: readonly Factor[],
  count: number,
  blocks: number,
): readonly UnnumberedRun[] {
  if (count === 0) return [];
  if (quantitiesOf(factors).length === 0) {
    throw new LayoutError(
      `layout "${kind}": centrePoints is ${count}, but a centre needs a factor that is a quantity. Set centrePoints to 0.`,
    );
  }
  refuseTooManyCentreRuns(factors, count);
  const combined = categoryCombinations(factors);
  return Array.from({ length: count }, (_, index) => index).flatMap((index) =>
    combined.map((categories) => ({
      block: (index % blocks) + 1,
      role: "centre" as const,
      settings: middleSettings(factors, categories),
    })),
  );
}

/** Says how many centre runs stand at each combination of categories; empty where there are none. */
export function centreNotes(factors: readonly Factor[], count: number): readonly string[] {
  if (count === 0) return [];
  const combined = categoryCombinations(factors).length;
  if (combined < 2) return [];
  return [
    `${count} centre run${count === 1 ? "" : "s"} at each of the ${combined} combinations of categories, ${count * combined} in all.`,
  ];
}
