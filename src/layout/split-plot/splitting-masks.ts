import { seededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import { effectCounts, rankOf } from "../two-level/aliases.ts";
import { valueOf, type RegularDesign } from "../two-level/regular-design.ts";

/** Effects up to this order are counted. */
const ORDER = 4;
const FIXED_SEED = 1926;
/** Starts of the exchange: few, because a start takes milliseconds and a plan should not; the best of them need not be the best there is. */
const STARTS = 8;

/**
 * The masks by which whole plots of one hard setting are cut into 2^count smaller ones, so that the fewest effects of low order are
 * compared between whole plots beside the hard factors': no main effect of an easy factor where that can be had, then the fewest
 * products of two, and so on. Found by exchange from a few starts with a fixed seed.
 */
export function splittingMasks(
  factors: readonly Factor[],
  design: RegularDesign,
  count: number,
): readonly number[] {
  const hard = design.masks.filter((_, place) => factors[place]?.change === "hard");
  const rank = rankOf(hard);
  const costs = costTable(design);
  const all = Array.from({ length: 2 ** design.bits - 1 }, (_, index) => index + 1);
  const random = seededRandom(FIXED_SEED);
  let best: readonly number[] = [];
  let least: Float64Array | undefined;
  for (let start = 0; start < STARTS; start += 1) {
    let set = independent(hard, random.shuffle(all), count);
    let cost = costOf(hard, set, costs);
    for (let improved = true; improved;) {
      improved = false;
      for (let place = 0; place < count; place += 1) {
        for (const mask of all) {
          const changed = set.map((other, index) => (index === place ? mask : other));
          if (rankOf([...hard, ...changed]) < rank + count) continue;
          const after = costOf(hard, changed, costs);
          if (less(after, cost)) [set, cost, improved] = [changed, after, true];
        }
      }
    }
    if (least === undefined || less(cost, least)) [best, least] = [set, cost];
  }
  return best;
}

/** How many effects of each order stand behind each mask. */
function costTable(design: RegularDesign): readonly (readonly number[])[] {
  const counts = effectCounts(design, Math.min(ORDER, design.masks.length));
  return Array.from({ length: 2 ** design.bits }, (_, mask) => counts.get(mask) ?? []);
}

function independent(hard: readonly number[], shuffled: readonly number[], count: number): readonly number[] {
  let chosen: readonly number[] = [];
  const rank = rankOf(hard);
  for (const mask of shuffled) {
    if (chosen.length === count) break;
    if (rankOf([...hard, ...chosen, mask]) === rank + chosen.length + 1) chosen = [...chosen, mask];
  }
  return chosen;
}

/** Effects by order in the span; those of the hard factors alone are in it whatever is chosen. */
function costOf(
  hard: readonly number[],
  set: readonly number[],
  costs: readonly (readonly number[])[],
): Float64Array {
  let span = [0];
  for (const mask of [...set, ...hard]) {
    if (span.includes(mask)) continue;
    span = [...span, ...span.map((other) => other ^ mask)];
  }
  const total = new Float64Array(ORDER + 1);
  for (const mask of span)
    costs[mask]?.forEach((found, order) => (total[order] = (total[order] ?? 0) + found));
  return total;
}

function less(one: Float64Array, other: Float64Array): boolean {
  const at = one.findIndex((count, order) => count !== other[order]);
  return at >= 0 && (one[at] ?? 0) < (other[at] ?? 0);
}

/** The part, from 0, into which a run (from 0, in standard order of one replicate) falls. */
export function partOfRun(masks: readonly number[], run: number): number {
  return masks.reduce((part, mask, place) => part + (valueOf(mask, run) > 0 ? 1 << place : 0), 0);
}
