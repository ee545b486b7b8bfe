import { numericsError } from "../error.ts";

/** A source of random variation: which of its levels each row belongs to, from 0 to `levels` − 1. */
export interface RandomSource {
  readonly level: Int32Array;
  readonly levels: number;
}

export function requireSources(sources: readonly RandomSource[], rows: number): void {
  if (sources.length === 0) throw numericsError("no random source", "at least one");
  sources.forEach(({ level, levels }, k) => {
    if (level.length !== rows)
      throw numericsError(`random source ${k} with ${level.length} entries`, `one for each of ${rows} rows`);
    const seen = new Uint8Array(levels);
    for (let i = 0; i < rows; i++) {
      if (!(level[i] >= 0 && level[i] < levels))
        throw numericsError(`level ${level[i]} in random source ${k}`, `0 to ${levels - 1}`);
      seen[level[i]] = 1;
    }
    const missing = seen.indexOf(0);
    if (missing >= 0)
      throw numericsError(`no row of level ${missing} in random source ${k}`, "a row of every level");
  });
}

/** For each level of `finer` the one level of `coarser` that holds it; null where one of them stands in several. */
export function parentsWithin(finer: RandomSource, coarser: RandomSource): Int32Array | null {
  const parent = new Int32Array(finer.levels).fill(-1);
  for (let i = 0; i < finer.level.length; i++) {
    const known = parent[finer.level[i]];
    if (known < 0) parent[finer.level[i]] = coarser.level[i];
    else if (known !== coarser.level[i]) return null;
  }
  return parent;
}

/**
 * Sources that nest in one another, finest first, beginning with the one of most levels; the others cross it and are handled level by level. Of two
 * sources with the same levels both are in the chain, which is harmless.
 */
export function nestedChain(sources: readonly RandomSource[]): {
  readonly chain: readonly number[];
  readonly parents: readonly Int32Array[];
  readonly crossed: readonly number[];
} {
  const order = sources.map((_, k) => k).sort((a, b) => sources[b].levels - sources[a].levels || a - b);
  const chain = [order[0]];
  const parents: Int32Array[] = [];
  const crossed: number[] = [];
  for (const k of order.slice(1)) {
    const parent = parentsWithin(sources[chain.at(-1)!], sources[k]);
    if (parent === null) crossed.push(k);
    else {
      chain.push(k);
      parents.push(parent);
    }
  }
  return { chain, parents, crossed };
}
