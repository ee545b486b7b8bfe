import type { Factor, Run } from "../../trial/index.ts";
import { settingsKey } from "../levels.ts";

/**
 * Degrees of freedom that replicates alone give the error: runs less what distinct settings and blocks can explain.
 * With blocks, settings and blocks are added up (a replicate in another block still counts, less one for the block);
 * the rank of that sum is settings + blocks − groups that hang together.
 */
export function pureErrorDf(
  factors: readonly Factor[],
  runs: readonly Pick<Run, "block" | "settings">[],
): number {
  return pureErrorWithin(
    factors,
    runs,
    runs.map(({ block }) => block),
  );
}

/** The same within groups of any kind, such as whole plots: replicates that share a group tell of the scatter inside it. */
export function pureErrorWithin(
  factors: readonly Factor[],
  runs: readonly Pick<Run, "settings">[],
  groupOf: readonly number[],
): number {
  const parent = new Map<string, string>();
  const root = (key: string): string => {
    let at = key;
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) at = up;
    return at;
  };
  const cells = new Set<string>();
  const groups = new Set<string>();
  runs.forEach((run, place) => {
    const cell = `settings ${settingsKey(factors, run.settings)}`;
    const group = `group ${groupOf[place]}`;
    cells.add(cell);
    groups.add(group);
    for (const key of [cell, group]) if (!parent.has(key)) parent.set(key, key);
    parent.set(root(cell), root(group));
  });
  const pieces = [...parent.keys()].filter((key) => root(key) === key).length;
  return runs.length - (cells.size + groups.size - pieces);
}
