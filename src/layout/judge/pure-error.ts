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
  const parent = new Map<string, string>();
  const root = (key: string): string => {
    let at = key;
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) at = up;
    return at;
  };
  const cells = new Set<string>();
  const blocks = new Set<string>();
  for (const run of runs) {
    const cell = `settings ${settingsKey(factors, run.settings)}`;
    const block = `block ${run.block}`;
    cells.add(cell);
    blocks.add(block);
    for (const key of [cell, block]) if (!parent.has(key)) parent.set(key, key);
    parent.set(root(cell), root(block));
  }
  const groups = [...parent.keys()].filter((key) => root(key) === key).length;
  return runs.length - (cells.size + blocks.size - groups);
}
