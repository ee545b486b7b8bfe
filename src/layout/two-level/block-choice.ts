import { seededRandom } from "../../numerics/index.ts";
import { LayoutError } from "../error.ts";
import { aliasSets, effectCounts, rankOf } from "./aliases.ts";
import { effectText, type EffectNames } from "./effect-text.ts";
import { valueOf, type RegularDesign } from "./regular-design.ts";

/** How a regular layout is cut into 2^q blocks: the masks whose signs tell the block. */
export interface BlockChoice {
  readonly masks: readonly number[];
  /** Effects of lowest order that can't be told from blocks, in factor names. */
  readonly confounded: readonly string[];
}

/** Effects up to this order are counted when blocks are chosen. */
const ORDER = 4;
/** Up to so many sets of block masks are all tried; beyond, they are searched. */
const EXHAUSTIVE = 30_000;

/**
 * The blocks that confound the fewest effects of low order: no main effect if that can be had, then the fewest products of
 * two factors, then of three, then of four. Up to `count` choices that are equally good, for further replicates.
 */
export function blockChoices(
  design: RegularDesign,
  q: number,
  count: number,
): readonly (readonly number[])[] {
  const counts = effectCounts(design, ORDER);
  const masks = Array.from({ length: 2 ** design.bits - 1 }, (_, index) => index + 1);
  const cost = (set: readonly number[]) => costOf(set, counts);
  const sets =
    binomial(masks.length, q) <= EXHAUSTIVE ? everySet(masks, q) : searchedSets(masks, q, cost, count);
  const spans = new Map<string, { set: readonly number[]; cost: readonly number[] }>();
  for (const set of sets) {
    if (rankOf(set) < q) continue;
    const key = spanOf(set)
      .sort((one, other) => one - other)
      .join();
    if (!spans.has(key)) spans.set(key, { set, cost: cost(set) });
  }
  const ranked = [...spans.values()].sort((one, other) => compareCosts(one.cost, other.cost));
  const least = ranked[0]?.cost ?? [];
  return ranked
    .filter((choice) => compareCosts(choice.cost, least) === 0)
    .slice(0, count)
    .map(({ set }) => set);
}

/** The block of a run, from 0. */
export function blockOfRun(masks: readonly number[], run: number): number {
  return masks.reduce((block, mask, place) => block + (valueOf(mask, run) > 0 ? 1 << place : 0), 0);
}

/** Lowest-order effects that stand behind the block columns, in words; one entry a block contrast. */
export function confoundedWithBlocks(
  design: RegularDesign,
  masks: readonly number[],
  names: EffectNames,
): readonly string[] {
  const span = new Set(spanOf(masks));
  const found = new Map<number, readonly string[]>();
  for (const set of aliasSets(design, design.masks.length > 12 ? 3 : Math.min(design.masks.length, 7))) {
    if (!span.has(set.mask)) continue;
    const least = set.effects[0]?.places.length ?? 0;
    const lowest = set.effects.filter((effect) => effect.places.length === least);
    found.set(
      set.mask,
      lowest.map((effect) => effectText(names, effect.places)),
    );
  }
  return [...found.values()].map((effects) => effects.join(" = "));
}

/** Refuses blocks that a regular layout of 2^bits runs can't be cut into. */
export function blockBits(kind: string, blocks: number, bits: number): number {
  const q = Math.log2(blocks);
  if (Number.isInteger(q) && q < bits) return q;
  const works = Array.from({ length: Math.max(0, bits - 1) }, (_, index) => 2 ** (index + 1));
  throw new LayoutError(
    `layout.blocks: ${2 ** bits} runs of a two-level "${kind}" can't be cut into ${blocks} blocks. Take ${works.length > 0 ? works.join(", ") : "1"}, or as many replicates as blocks.`,
  );
}

function spanOf(set: readonly number[]): number[] {
  let span = [0];
  for (const mask of set) span = [...span, ...span.map((other) => other ^ mask)];
  return span.filter((mask) => mask !== 0);
}

function costOf(set: readonly number[], counts: ReadonlyMap<number, readonly number[]>): readonly number[] {
  const total = new Array<number>(ORDER + 1).fill(0);
  for (const mask of spanOf(set)) {
    counts.get(mask)?.forEach((count, order) => (total[order] = (total[order] ?? 0) + count));
  }
  return total;
}

function compareCosts(one: readonly number[], other: readonly number[]): number {
  const at = one.findIndex((count, order) => count !== other[order]);
  return at < 0 ? 0 : (one[at] ?? 0) - (other[at] ?? 0);
}

function binomial(n: number, k: number): number {
  let product = 1;
  for (let index = 0; index < k; index += 1) product = (product * (n - index)) / (index + 1);
  return product;
}

function* everySet(masks: readonly number[], size: number, from = 0): Generator<readonly number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let index = from; index <= masks.length - size; index += 1) {
    for (const rest of everySet(masks, size - 1, index + 1)) yield [masks[index] ?? 0, ...rest];
  }
}

/** Sets found by exchanging one mask at a time from many starts (fixed seed, so that a plan does not hang on chance). */
function searchedSets(
  masks: readonly number[],
  size: number,
  cost: (set: readonly number[]) => readonly number[],
  count: number,
): readonly (readonly number[])[] {
  const random = seededRandom(1953);
  const found: (readonly number[])[] = [];
  for (let start = 0; start < 20 + count; start += 1) {
    let set: readonly number[] = random.shuffle(masks).slice(0, size);
    if (rankOf(set) < size) continue;
    let current = cost(set);
    for (let improved = true; improved;) {
      improved = false;
      for (let place = 0; place < size; place += 1) {
        for (const mask of masks) {
          const changed = set.map((other, index) => (index === place ? mask : other));
          if (rankOf(changed) < size) continue;
          const after = cost(changed);
          if (compareCosts(after, current) < 0) {
            set = changed;
            current = after;
            improved = true;
          }
        }
      }
    }
    found.push(set);
  }
  return found;
}
