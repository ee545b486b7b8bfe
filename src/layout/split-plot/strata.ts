import { wholePlotsOf, type Factor, type Run } from "../../trial/index.ts";
import { settingsKey } from "../levels.ts";

/** Runs grouped by what they share: the scatter within one stratum is smaller than between its groups. */
export interface Stratum {
  /** `replicates` are blocks that each hold the same settings. */
  readonly name: "replicates" | "blocks" | "whole plots" | "runs";
  /** The group of each run, from 1, in cutting order. */
  readonly groups: readonly number[];
  readonly count: number;
  /** Groups less those of the stratum above (less 1 where there is none): all that can be learned between the groups. */
  readonly df: number;
  /** In plain words: what the groups are. */
  readonly text: string;
}

/**
 * The strata of a list of runs in cutting order: blocks (or replicates) where there are several, whole plots where a factor
 * is hard to change, and the runs. Degrees of freedom add up to runs less 1.
 *
 * Example: an edge that is hard to change, four whole plots of two runs: whole plots with 3 degrees of freedom, runs with 4.
 */
export function strataOf(
  runs: readonly Pick<Run, "block" | "settings" | "wholePlot">[],
  factors: readonly Factor[],
): readonly Stratum[] {
  const strata: Stratum[] = [];
  let above = 1;
  const add = (name: Stratum["name"], groups: readonly number[], count: number, text: string) => {
    strata.push({ name, groups, count, df: count - above, text });
    above = count;
  };
  const blocks = [...new Set(runs.map((run) => run.block))];
  if (blocks.length > 1) {
    const groups = runs.map((run) => blocks.indexOf(run.block) + 1);
    const alike = sameSettings(runs, groups, factors);
    add(
      alike ? "replicates" : "blocks",
      groups,
      blocks.length,
      alike
        ? `${blocks.length} replicates, each a block that holds the same settings`
        : `${blocks.length} blocks`,
    );
  }
  const plots = wholePlotsOf(runs, factors);
  if (plots) {
    add("whole plots", plots.of, plots.count, `${plots.count} set-ups of ${plots.factors.join(", ")}`);
  }
  add(
    "runs",
    runs.map((_, place) => place + 1),
    runs.length,
    `${runs.length} runs`,
  );
  return strata;
}

/** True where every group holds the same settings, each as often. */
function sameSettings(
  runs: readonly Pick<Run, "settings">[],
  groups: readonly number[],
  factors: readonly Factor[],
): boolean {
  const held = new Map<number, string[]>();
  runs.forEach((run, place) => {
    const group = groups[place] ?? 0;
    held.set(group, [...(held.get(group) ?? []), settingsKey(factors, run.settings)]);
  });
  return new Set([...held.values()].map((keys) => keys.sort().join("\n"))).size === 1;
}
