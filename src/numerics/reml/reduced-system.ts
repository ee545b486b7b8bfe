import { numericsError } from "../error.ts";
import { jetShape, type JetShape } from "./jets.ts";
import { nestedChain, type RandomSource } from "./random-source.ts";

/** Rows of the finest source with the same number of rows each: what they add hangs on that number alone. */
interface Size {
  readonly rows: number;
  readonly nodes: number;
  /** Σ mean·meanᵀ over the nodes, upper triangle, d × d. */
  readonly means: Float64Array;
}

/** What a node of the second source of the chain gathers from the finest one: nodes of one size summed. */
interface Gathered {
  readonly size: number;
  readonly nodes: number;
  /** Σ over their rows, d entries. */
  readonly sums: Float64Array;
}

/**
 * A mixed model brought down to sums that no longer know the single rows: cross-products of [crossed levels | Q | r] within and between the levels of the
 * sources. Its size follows the number of levels and columns, not of rows, and where groups are of equal size (a balanced layout) it is one matrix a stratum.
 */
export interface ReducedSystem {
  readonly shape: JetShape;
  readonly rows: number;
  /** Columns of Q. */
  readonly rank: number;
  /** Crossed levels, columns of Q, and the response. */
  readonly d: number;
  /** Source of each crossed level. */
  readonly crossedSource: readonly number[];
  /** Sources of the nested chain, finest first. */
  readonly chain: readonly number[];
  /** Cross-products of deviations from the means of the finest source, upper triangle. */
  readonly within: Float64Array;
  readonly sizes: readonly Size[];
  readonly gathered: readonly (readonly Gathered[])[];
  /** For each source of the chain from the second but the last: the node above. */
  readonly upper: readonly Int32Array[];
  /** Levels of each source of the chain. */
  readonly nodes: readonly number[];
}

/** Entries of the table of crossed levels that are held at most: 160 MB of doubles. */
const mostCrossedEntries = 2e7;
/** Each crossed level costs a pass over the whole reduced matrix for every evaluation. */
const mostCrossedLevels = 300;

/** `basis` holds columns of unit length at right angles, `rest` what is left of the response; both row by row order of the sources. */
export function reducedSystem(
  basis: readonly Float64Array[],
  rest: Float64Array,
  sources: readonly RandomSource[],
): ReducedSystem {
  const n = rest.length;
  const { chain, parents, crossed } = nestedChain(sources);
  const crossedSource = crossed.flatMap((k) => new Array<number>(sources[k].levels).fill(k));
  const q = crossedSource.length;
  if (q > mostCrossedLevels || q * n > mostCrossedEntries) {
    throw numericsError(
      `random sources that cross one another with ${q} levels beside the largest`,
      `at most ${mostCrossedLevels} such levels, and ${mostCrossedEntries} levels times rows`,
      "Take fewer crossed sources, or average the rows first.",
    );
  }
  const d = q + basis.length + 1;
  const columns = [...crossedColumns(crossed, sources, n), ...basis, rest];
  const { level, levels } = sources[chain[0]];
  const counts = new Int32Array(levels);
  for (let i = 0; i < n; i++) counts[level[i]]++;
  const sums = new Float64Array(levels * d);
  columns.forEach((column, c) => {
    for (let i = 0; i < n; i++) sums[level[i] * d + c] += column[i];
  });
  const different = [...new Set(counts)].sort((a, b) => a - b);
  const sizeOf = new Map(different.map((count, k) => [count, k]));
  const sizes = different.map((rows) => ({ rows, nodes: 0, means: new Float64Array(d * d) }));
  for (let node = 0; node < levels; node++) {
    const size = sizes[sizeOf.get(counts[node])!];
    size.nodes++;
    const start = node * d;
    const by = 1 / (size.rows * size.rows);
    for (let a = 0; a < d; a++) {
      const h = sums[start + a] * by;
      if (h !== 0) for (let b = a; b < d; b++) size.means[a * d + b] += h * sums[start + b];
    }
  }
  return {
    shape: jetShape(sources.length),
    rows: n,
    rank: basis.length,
    d,
    crossedSource,
    chain,
    within: crossWithin(columns, level, counts, sums),
    sizes,
    gathered:
      chain.length < 2 ? [] : gatheredBy(parents[0], sources[chain[1]].levels, counts, sizeOf, sums, d),
    upper: parents.slice(1),
    nodes: chain.map((k) => sources[k].levels),
  };
}

function crossedColumns(
  crossed: readonly number[],
  sources: readonly RandomSource[],
  n: number,
): Float64Array[] {
  return crossed.flatMap((k) => {
    const columns = Array.from({ length: sources[k].levels }, () => new Float64Array(n));
    sources[k].level.forEach((level, i) => (columns[level][i] = 1));
    return columns;
  });
}

/** Cross-products of deviations from the node's mean: nothing cancels, however far the means lie from zero. */
function crossWithin(
  columns: readonly Float64Array[],
  level: Int32Array,
  counts: Int32Array,
  sums: Float64Array,
): Float64Array {
  const d = columns.length;
  const within = new Float64Array(d * d);
  const deviation = new Float64Array(d);
  for (let i = 0; i < level.length; i++) {
    const node = level[i];
    if (counts[node] === 1) continue;
    for (let c = 0; c < d; c++) deviation[c] = columns[c][i] - sums[node * d + c] / counts[node];
    for (let a = 0; a < d; a++) {
      const h = deviation[a];
      if (h !== 0) for (let b = a; b < d; b++) within[a * d + b] += h * deviation[b];
    }
  }
  return within;
}

function gatheredBy(
  parent: Int32Array,
  nodes: number,
  counts: Int32Array,
  sizeOf: ReadonlyMap<number, number>,
  sums: Float64Array,
  d: number,
): readonly (readonly Gathered[])[] {
  const made = Array.from({ length: nodes }, () => new Map<number, { nodes: number; sums: Float64Array }>());
  for (let child = 0; child < parent.length; child++) {
    const size = sizeOf.get(counts[child])!;
    let into = made[parent[child]].get(size);
    if (into === undefined) made[parent[child]].set(size, (into = { nodes: 0, sums: new Float64Array(d) }));
    into.nodes++;
    for (let c = 0; c < d; c++) into.sums[c] += sums[child * d + c];
  }
  return made.map((bySize) =>
    [...bySize].map(([size, { nodes: count, sums: total }]) => ({ size, nodes: count, sums: total })),
  );
}
