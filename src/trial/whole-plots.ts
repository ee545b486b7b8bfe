import type { Factor } from "./factor.ts";
import type { Run } from "./run.ts";

/** Runs that share one set-up of the factors that are hard to change. */
export interface WholePlots {
  /** Names of the factors that are set once a whole plot. */
  readonly factors: readonly string[];
  /** The whole plot of each run, from 1, in the order in which the runs were given. */
  readonly of: readonly number[];
  readonly count: number;
}

/**
 * Which runs share a set-up of the hard factors.
 *
 * Use it before judging or analysing runs of a trial with factors marked `change: "hard"`: what such a factor does is known by
 * the scatter between whole plots, not between runs. `runs` are in cutting order. Runs that carry a `wholePlot` (plans do) stand
 * in it as long as its number, and the block, stay the same from run to run; where none carries one, a whole plot ends where
 * a hard factor's setting or the block changes. So a set-up made anew at the same setting is seen only where the runs carry
 * whole plots. Returns null where no factor is hard to change: then every run is a set-up of its own.
 *
 * Example: an edge that is hard to change, cut fresh, fresh, used, used, fresh, fresh: `of` is [1, 1, 2, 2, 3, 3].
 */
export function wholePlotsOf(
  runs: readonly Pick<Run, "block" | "settings" | "wholePlot">[],
  factors: readonly Factor[],
): WholePlots | null {
  const hard = factors.filter((factor) => factor.change === "hard").map((factor) => factor.name);
  if (hard.length === 0) return null;
  const carried = runs.every((run) => run.wholePlot !== undefined);
  const keys = runs.map((run) =>
    JSON.stringify([run.block, carried ? run.wholePlot : hard.map((name) => run.settings[name])]),
  );
  let count = 0;
  const of = keys.map((key, place) => {
    if (place === 0 || key !== keys[place - 1]) count += 1;
    return count;
  });
  return { factors: hard, of, count };
}
