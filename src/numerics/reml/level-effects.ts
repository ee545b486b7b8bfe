import { choleskyFactor, choleskySolve } from "./small-symmetric.ts";
import { nestedChain, type RandomSource } from "./random-source.ts";

/** What the levels of the sources are told to have added, and what is left in the rows. */
export interface LevelEffects {
  /** For each source, one effect a level. */
  readonly effects: readonly Float64Array[];
  /** Of each row, its fixed part and the effects of its levels taken out. */
  readonly residuals: Float64Array;
}

/**
 * Best linear unbiased predictions of the levels' effects: variance·Zᵀ·V⁻¹·(y − Xβ), drawn towards zero the more, the less a level is known.
 * `rest` is y − Xβ; `ratios` are variances over the residual's. V is never formed: nested sources are gone up and down once, crossed ones solved in a
 * system of their levels.
 * Source: Henderson 1975, Biometrics 31, 423–447.
 */
export function levelEffects(
  sources: readonly RandomSource[],
  ratios: Float64Array,
  rest: Float64Array,
): LevelEffects {
  const { chain, parents, crossed } = nestedChain(sources);
  const inverse = (vector: Float64Array): Float64Array =>
    nestedInverse(sources, ratios, chain, parents, vector);
  const levels = crossed
    .filter((k) => ratios[k] > 0)
    .flatMap((k) =>
      Array.from({ length: sources[k].levels }, (_, level) => ({ k, level, root: Math.sqrt(ratios[k]) })),
    );
  let left = inverse(rest);
  if (levels.length > 0) {
    const size = levels.length;
    const onLevel = (vector: Float64Array, k: number): Float64Array => sumBy(sources[k], vector);
    const matrix = new Float64Array(size * size);
    levels.forEach((one, j) => {
      const unit = new Float64Array(rest.length);
      sources[one.k].level.forEach((level, i) => (unit[i] = level === one.level ? 1 : 0));
      const solved = inverse(unit);
      const sums = new Map(crossed.map((k) => [k, onLevel(solved, k)]));
      levels.forEach((other, i) => {
        matrix[i * size + j] = other.root * one.root * sums.get(other.k)![other.level] + (i === j ? 1 : 0);
      });
    });
    const totals = new Map(crossed.map((k) => [k, onLevel(left, k)]));
    const solved = choleskySolve(
      choleskyFactor(matrix, size, 0)!,
      size,
      levels.map(({ k, level, root }) => root * totals.get(k)![level]),
    );
    const without = rest.slice();
    const effect = new Map(crossed.map((k) => [k, new Float64Array(sources[k].levels)]));
    levels.forEach(({ k, level, root }, i) => (effect.get(k)![level] = root * solved[i]));
    for (const k of crossed) sources[k].level.forEach((level, i) => (without[i] -= effect.get(k)![level]));
    left = inverse(without);
  }
  return {
    effects: sources.map((source, k) => sumBy(source, left).map((value) => ratios[k] * value)),
    residuals: left,
  };
}

/**
 * The diagonal of H⁻¹ where all sources nest, one entry a level of the finest (rows of one finest level share it); null where some cross. What a unit in
 * one row takes off that row is passed along its own branch alone, so the cost is that of the levels.
 */
export function nestedDiagonal(sources: readonly RandomSource[], ratios: Float64Array): Float64Array | null {
  const { chain, parents, crossed } = nestedChain(sources);
  if (crossed.length > 0) return null;
  let weights = sumBy(sources[chain[0]], new Float64Array(sources[chain[0]].level.length).fill(1));
  const steps = chain.map((k, step) => {
    const weight = weights;
    const shrink = weight.map((value) => 1 / (1 + ratios[k] * value));
    if (step < parents.length) {
      weights = new Float64Array(sources[chain[step + 1]].levels);
      parents[step].forEach((node, child) => (weights[node] += shrink[child] * weight[child]));
    }
    return { weight, shrink, ratio: ratios[k] };
  });
  return steps[0].weight.map((_, finest) => {
    const branch: { node: number; sum: number }[] = [];
    steps.forEach((_, step) => {
      const below = branch.at(-1);
      branch.push(
        below === undefined
          ? { node: finest, sum: 1 }
          : { node: parents[step - 1][below.node], sum: below.sum * steps[step - 1].shrink[below.node] },
      );
    });
    const taken = branch.reduceRight((down, { node, sum }, step) => {
      const { weight, shrink, ratio } = steps[step];
      return down + ratio * shrink[node] * (sum - weight[node] * down);
    }, 0);
    return 1 - taken;
  });
}

/** H⁻¹·vector for the nested sources alone: sums go up the chain, what each node explains comes down. */
function nestedInverse(
  sources: readonly RandomSource[],
  ratios: Float64Array,
  chain: readonly number[],
  parents: readonly Int32Array[],
  vector: Float64Array,
): Float64Array {
  const finest = sources[chain[0]];
  const counts = sumBy(finest, new Float64Array(vector.length).fill(1));
  let sums = sumBy(finest, vector);
  let weights = counts;
  const tops: { shrink: Float64Array; sums: Float64Array; weights: Float64Array; ratio: number }[] = [];
  chain.forEach((k, step) => {
    const shrink = weights.map((weight) => 1 / (1 + ratios[k] * weight));
    tops.push({ shrink, sums, weights, ratio: ratios[k] });
    if (step === chain.length - 1) return;
    const up = parents[step];
    const nextSums = new Float64Array(sources[chain[step + 1]].levels);
    const nextWeights = new Float64Array(nextSums.length);
    up.forEach((node, child) => {
      nextSums[node] += shrink[child] * sums[child];
      nextWeights[node] += shrink[child] * weights[child];
    });
    [sums, weights] = [nextSums, nextWeights];
  });
  // What is taken off each row: from the coarsest down, a node takes its own effect off what its rows have left.
  let taken: Float64Array = new Float64Array(0);
  for (let step = chain.length - 1; step >= 0; step--) {
    const { shrink, sums: total, weights: weight, ratio } = tops[step];
    const above = taken;
    taken = total.map((value, node) => {
      const down = above.length === 0 ? 0 : above[parents[step][node]];
      return down + ratio * shrink[node] * (value - weight[node] * down);
    });
  }
  return vector.map((value, i) => value - taken[finest.level[i]]);
}

function sumBy(source: RandomSource, vector: Float64Array): Float64Array {
  const sums = new Float64Array(source.levels);
  for (let i = 0; i < vector.length; i++) sums[source.level[i]] += vector[i];
  return sums;
}
