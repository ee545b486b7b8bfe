import { seededRandom } from "../../numerics/index.ts";
import { krawtchouk, onesIn } from "./regular-design.ts";

/**
 * Looks for the 2^(k−p) fraction of minimum aberration (Fries and Hunter, Technometrics 22, 1980, 601–608): the one with the
 * fewest words of length 3, then of length 4, and so on. Generators are exchanged one at a time while that helps, from many
 * starts; the seed is fixed, so that the same request always gives the same fraction. For 8 to 128 runs and up to 15
 * factors the result has the published word-length pattern in every case (see the tests); beyond, it is the best found.
 *
 * @param factors k, above `bits`. @param bits basic factors, runs = 2^bits.
 * @returns the masks of the k − bits generated factors, in falling length.
 */
export function minimumAberration(factors: number, bits: number): readonly number[] {
  const runs = 2 ** bits;
  const extra = factors - bits;
  const candidates = Array.from({ length: runs - 1 }, (_, index) => index + 1).filter(
    (mask) => onesIn(mask) > 1,
  );
  if (extra >= candidates.length) return longestFirst(candidates.slice(0, extra));
  const search = new AberrationSearch(factors, bits);
  const random = seededRandom(FIXED_SEED);
  let best: readonly number[] = [];
  let bestPattern: readonly number[] | undefined;
  for (let start = 0; start < starts(runs, extra); start += 1) {
    // The first starts take long generators, or only odd ones (no word of odd length is then left); the rest are drawn.
    const pool =
      start === 0
        ? longestFirst(candidates)
        : random.shuffle(start % 3 === 1 ? candidates.filter((mask) => onesIn(mask) % 2 === 1) : candidates);
    const drawn = (pool.length < extra ? random.shuffle(candidates) : pool).slice(0, extra);
    const found = search.improve(drawn, candidates);
    if (bestPattern === undefined || comparePatterns(found.pattern, bestPattern) < 0) {
      best = found.masks;
      bestPattern = found.pattern;
    }
  }
  return longestFirst(best);
}

const FIXED_SEED = 1980;

/** Many starts where they are cheap. */
function starts(runs: number, extra: number): number {
  return Math.max(4, Math.min(60, Math.ceil(60_000 / (runs * extra))));
}

function longestFirst(masks: readonly number[]): readonly number[] {
  return [...masks].sort((one, other) => onesIn(other) - onesIn(one) || one - other);
}

/** Below 0 where the first pattern has less aberration. */
export function comparePatterns(one: readonly number[], other: readonly number[]): number {
  for (let length = 1; length < Math.max(one.length, other.length); length += 1) {
    const difference = (one[length] ?? 0) - (other[length] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Holds the tables of one search: the parity of every mask in every run, and the polynomials that turn weights into words. */
class AberrationSearch {
  private readonly runs: number;
  private readonly parity: readonly Uint8Array[];
  private readonly polynomials: readonly Float64Array[];
  private readonly histogram: Float64Array;

  private readonly factors: number;
  private readonly bits: number;

  constructor(factors: number, bits: number) {
    this.factors = factors;
    this.bits = bits;
    this.runs = 2 ** bits;
    this.parity = Array.from({ length: this.runs }, (_, mask) =>
      Uint8Array.from({ length: this.runs }, (_unused, run) => onesIn(mask & run) & 1),
    );
    this.polynomials = krawtchouk(factors);
    this.histogram = new Float64Array(factors + 1);
  }

  /** Exchanges single generators as long as the pattern gets better. */
  improve(
    start: readonly number[],
    candidates: readonly number[],
  ): { readonly masks: readonly number[]; readonly pattern: readonly number[] } {
    const masks = [...start];
    const weights = this.weightsOf(masks);
    let pattern = this.patternOf(weights, undefined);
    for (let improved = true; improved;) {
      improved = false;
      for (let place = 0; place < masks.length; place += 1) {
        const out = this.parity[masks[place] ?? 0];
        const without = weights.map((weight, run) => weight - (out?.[run] ?? 0));
        let bestMask = masks[place] ?? 0;
        const short = this.shortWords(masks, place);
        for (const mask of candidates) {
          // Words of three and four are known at once; only masks that may win on the longer ones are counted through.
          const three = short.three + short.pairs[mask];
          if (three > pattern[3]) continue;
          if (three === pattern[3] && short.four + short.triples[mask] > pattern[4]) continue;
          if (masks.includes(mask)) continue;
          const found = this.patternWith(without, this.parity[mask], pattern);
          if (found) {
            pattern = found;
            bestMask = mask;
          }
        }
        if (bestMask === masks[place]) continue;
        masks[place] = bestMask;
        weights.set(this.weightsOf(masks));
        improved = true;
      }
    }
    return { masks, pattern };
  }

  /**
   * Words of three and four among all masks but one, and for each mask how many of each it would add: as many as pairs, and triples, have it for
   * their product.
   */
  private shortWords(masks: readonly number[], place: number) {
    const kept = [
      ...Array.from({ length: this.bits }, (_, bit) => 1 << bit),
      ...masks.filter((_, other) => other !== place),
    ];
    const pairs = new Int32Array(this.runs);
    const triples = new Int32Array(this.runs);
    for (let a = 0; a < kept.length; a += 1)
      for (let b = a + 1; b < kept.length; b += 1) {
        const pair = kept[a] ^ kept[b];
        pairs[pair] += 1;
        for (let c = b + 1; c < kept.length; c += 1) triples[pair ^ kept[c]] += 1;
      }
    // Each word of four is met once as a triple for each of its letters.
    const four = kept.reduce((sum, mask) => sum + triples[mask], 0) / 4;
    return { three: triples[0], four, pairs, triples };
  }

  private weightsOf(masks: readonly number[]): Uint8Array {
    const all = [...Array.from({ length: this.bits }, (_, bit) => 1 << bit), ...masks];
    const weights = new Uint8Array(this.runs);
    for (const mask of all)
      this.parity[mask]?.forEach((odd, run) => (weights[run] = (weights[run] ?? 0) + odd));
    return weights;
  }

  private patternWith(
    without: Uint8Array,
    added: Uint8Array | undefined,
    toBeat: readonly number[],
  ): readonly number[] | undefined {
    this.histogram.fill(0);
    for (let run = 0; run < this.runs; run += 1) {
      const weight = (without[run] ?? 0) + (added?.[run] ?? 0);
      this.histogram[weight] = (this.histogram[weight] ?? 0) + 1;
    }
    return this.words(toBeat);
  }

  private patternOf(weights: Uint8Array, toBeat: readonly number[] | undefined): readonly number[] {
    this.histogram.fill(0);
    for (const weight of weights) this.histogram[weight] = (this.histogram[weight] ?? 0) + 1;
    return this.words(toBeat) ?? [];
  }

  /** Word counts from the histogram; undefined as soon as they are seen not to beat `toBeat`. */
  private words(toBeat: readonly number[] | undefined): readonly number[] | undefined {
    const pattern = [1];
    let better = toBeat === undefined;
    for (let length = 1; length <= this.factors; length += 1) {
      const row = this.polynomials[length];
      let sum = 0;
      for (let weight = 0; weight <= this.factors; weight += 1) {
        sum += (this.histogram[weight] ?? 0) * (row?.[weight] ?? 0);
      }
      const count = Math.round(sum / this.runs);
      if (!better && count > (toBeat?.[length] ?? 0)) return undefined;
      if (!better && count < (toBeat?.[length] ?? 0)) better = true;
      pattern.push(count);
    }
    return better ? pattern : undefined;
  }
}
