import { addLogarithm, parameterJet, product, reciprocal, scaled, subtractOuter } from "./jets.ts";
import type { ReducedSystem } from "./reduced-system.ts";

/** The reduced system at given ratios of variances, each entry a jet by the ratios. */
export interface Evaluated {
  /** log|H| with H = I + Σ ratio·ZZᵀ. */
  readonly logDeterminant: Float64Array;
  /** [Q r]ᵀH⁻¹[Q r], upper triangle: one (rank + 1)² matrix a jet entry, row by row. */
  readonly cross: readonly Float64Array[];
}

/**
 * log|H| and [Q r]ᵀH⁻¹[Q r] with exact derivatives by the ratios (variance of each source over that of the residual).
 *
 * Every level of a source adds ratio·zzᵀ to H, and (H + ratio·zzᵀ)⁻¹ = H⁻¹ − g·H⁻¹zzᵀH⁻¹ with g = ratio/(1 + ratio·zᵀH⁻¹z). Levels that nest do not meet one
 * another, so their updates need only sums over their rows; crossed levels are columns of the reduced matrix, used up one by one. Nothing of the size of
 * rows × rows is formed, and a ratio of exactly 0 is as good as any other.
 */
export function evaluate(system: ReducedSystem, ratios: Float64Array): Evaluated {
  const { shape, d, within, sizes, chain, crossedSource } = system;
  const logDeterminant = new Float64Array(shape.size);
  const cross = Array.from({ length: shape.size }, (_, jet) =>
    jet === 0 ? within.slice() : new Float64Array(d * d),
  );
  const finest = chain[0];
  const first = 1 + finest;
  const second = shape.second(finest, finest);
  // 1/(1 + ratio·rows) for each size, and what the means count with: rows times that.
  const shrink = sizes.map(({ rows, nodes, means }) => {
    const denominator = scaledPlusOne(system, finest, ratios[finest], constant(system, rows));
    const own = new Float64Array(shape.size);
    addLogarithm(shape, own, denominator);
    for (let k = 0; k < shape.size; k++) logDeterminant[k] += nodes * own[k];
    const by = reciprocal(shape, denominator);
    for (const jet of [0, first, second]) {
      const target = cross[jet];
      const weight = rows * by[jet];
      for (let k = 0; k < means.length; k++) target[k] += weight * means[k];
    }
    return by;
  });
  if (chain.length > 1) addUpperLevels(system, ratios, shrink, logDeterminant, cross);

  // The crossed levels stand first in the matrix; each is used up in turn.
  const column = new Float64Array(shape.size * d);
  crossedSource.forEach((source, j) => {
    for (let jet = 0; jet < shape.size; jet++)
      for (let b = j; b < d; b++) column[jet * d + b] = cross[jet][j * d + b];
    const own = Float64Array.from({ length: shape.size }, (_, jet) => column[jet * d + j]);
    const denominator = scaledPlusOne(system, source, ratios[source], own);
    addLogarithm(shape, logDeterminant, denominator);
    const factor = product(
      shape,
      parameterJet(shape, source, ratios[source]),
      reciprocal(shape, denominator),
    );
    subtractOuter(shape, cross, d, factor, column, j + 1);
  });
  const q = crossedSource.length;
  return { logDeterminant, cross: q === 0 ? cross : cross.map((matrix) => trailing(matrix, d, q)) };
}

/** The sources of the chain above the finest: each node's sums are passed up, shrunk by what the node itself explains. */
function addUpperLevels(
  system: ReducedSystem,
  ratios: Float64Array,
  shrink: readonly Float64Array[],
  logDeterminant: Float64Array,
  cross: readonly Float64Array[],
): void {
  const { shape, d, chain, gathered, sizes, upper, nodes } = system;
  // Of each node: zᵀH⁻¹z first, then the d entries of zᵀH⁻¹M, laid out jet by jet.
  const length = d + 1;
  let level: readonly Float64Array[] = gathered.map((parts) => {
    const node = new Float64Array(shape.size * length);
    for (const part of parts) {
      const by = shrink[part.size];
      for (let jet = 0; jet < shape.size; jet++) {
        if (by[jet] === 0) continue;
        node[jet * length] += by[jet] * sizes[part.size].rows * part.nodes;
        for (let c = 0; c < d; c++) node[jet * length + 1 + c] += by[jet] * part.sums[c];
      }
    }
    return node;
  });
  for (let step = 1; step < chain.length; step++) {
    const source = chain[step];
    const above =
      step + 1 < chain.length
        ? Array.from({ length: nodes[step + 1] }, () => new Float64Array(shape.size * length))
        : null;
    const ratio = parameterJet(shape, source, ratios[source]);
    level.forEach((node, place) => {
      const own = Float64Array.from({ length: shape.size }, (_, jet) => node[jet * length]);
      const denominator = scaledPlusOne(system, source, ratios[source], own);
      addLogarithm(shape, logDeterminant, denominator);
      const by = reciprocal(shape, denominator);
      const sums = new Float64Array(shape.size * d);
      for (let jet = 0; jet < shape.size; jet++)
        sums.set(node.subarray(jet * length + 1, (jet + 1) * length), jet * d);
      subtractOuter(shape, cross, d, product(shape, ratio, by), sums, 0);
      if (above === null) return;
      const into = above[upper[step - 1][place]];
      const passed = scaled(shape, by, node, length);
      for (let k = 0; k < passed.length; k++) into[k] += passed[k];
    });
    if (above !== null) level = above;
  }
}

/** 1 + ratio·inner. */
function scaledPlusOne(
  { shape }: ReducedSystem,
  source: number,
  ratio: number,
  inner: Float64Array,
): Float64Array {
  const out = product(shape, parameterJet(shape, source, ratio), inner);
  out[0] += 1;
  return out;
}

function constant({ shape }: ReducedSystem, value: number): Float64Array {
  const out = new Float64Array(shape.size);
  out[0] = value;
  return out;
}

function trailing(matrix: Float64Array, d: number, from: number): Float64Array {
  const size = d - from;
  const out = new Float64Array(size * size);
  for (let a = 0; a < size; a++)
    for (let b = a; b < size; b++) out[a * size + b] = matrix[(a + from) * d + b + from];
  return out;
}
