import { dotProduct } from "../../numerics/index.ts";
import type { Slot } from "./slots.ts";
import { driftColumns, withinBlocks } from "./drift.ts";

interface Random {
  readonly next: () => number;
  readonly integer: (below: number) => number;
}

/** How much a bending drift counts beside a steady one: enough to guide a first search, then next to nothing. */
const BENDING_WEIGHTS = [0.02, 1e-5];
/** Moves tried in each search: about 50 ms for 64 runs and 8 factors. */
const MOVES = 40_000;
/** Starting heat of the first search; the second only goes downhill. */
const HEATS = [0.02, 0];
/** Summed squared correlations below this are rounding. */
const EXACT = 1e-24;

/**
 * Looks for the order in which the contrasts move least with time, by swaps of two open places of one block, cooling
 * slowly (simulated annealing). Never ends worse than it starts.
 *
 * @param contrasts one array a contrast; entry r belongs to run r of `start`'s numbering.
 * @param start run index at each slot.
 */
export function leastDriftOrder(
  slots: readonly Slot[],
  contrasts: readonly Float64Array[],
  start: readonly number[],
  random: Random,
): readonly number[] {
  const blocks = slots.map((slot) => slot.block);
  const drift = driftColumns(
    slots.map((_, place) => place),
    blocks,
  );
  const columns = contrasts
    .map((contrast) => scaled(contrast, start, blocks))
    .filter((column) => column !== undefined);
  const groups = [...new Set(blocks)]
    .map((block) => slots.flatMap((slot, place) => (slot.block === block && !slot.fixed ? [place] : [])))
    .filter((places) => places.length > 1);
  if (columns.length === 0 || groups.length === 0) return start;
  let order = start;
  BENDING_WEIGHTS.forEach((bendingWeight, stage) => {
    order = anneal({ columns, drift, groups, start: order, random, bendingWeight, heat: HEATS[stage] ?? 0 });
  });
  return order;
}

/** Centred within blocks and of length 1, by run index; undefined where it does not move within blocks. */
function scaled(
  contrast: Float64Array,
  start: readonly number[],
  blocks: readonly number[],
): Float64Array | undefined {
  const within = withinBlocks(
    start.map((run) => contrast[run] ?? 0),
    blocks,
  );
  const length = Math.sqrt(dotProduct(within, within));
  if (length < 1e-9) return undefined;
  const byRun = new Float64Array(contrast.length);
  start.forEach((run, place) => (byRun[run] = (within[place] ?? 0) / length));
  return byRun;
}

function anneal(search: {
  readonly columns: readonly Float64Array[];
  readonly drift: { readonly linear: Float64Array; readonly quadratic: Float64Array };
  readonly groups: readonly (readonly number[])[];
  readonly start: readonly number[];
  readonly random: Random;
  readonly bendingWeight: number;
  readonly heat: number;
}): readonly number[] {
  const { columns, drift, groups, random, bendingWeight } = search;
  const order = [...search.start];
  const sums = columns.map((column) => ({ steady: 0, bending: 0, column }));
  const total = () => {
    let sum = 0;
    for (const { steady, bending } of sums) sum += steady * steady + bendingWeight * bending * bending;
    return sum;
  };
  const sumUp = () => {
    for (const one of sums) {
      one.steady = order.reduce(
        (sum, run, place) => sum + (one.column[run] ?? 0) * (drift.linear[place] ?? 0),
        0,
      );
      one.bending = order.reduce(
        (sum, run, place) => sum + (one.column[run] ?? 0) * (drift.quadratic[place] ?? 0),
        0,
      );
    }
    return total();
  };
  let current = sumUp();
  let best = [...order];
  let least = current;
  const weights = groups.flatMap((places, group) => places.map(() => group));
  for (let move = 0; move < MOVES && least > EXACT; move += 1) {
    const places = groups[weights[random.integer(weights.length)] ?? 0] ?? [];
    const one = places[random.integer(places.length)] ?? 0;
    const other = places[random.integer(places.length)] ?? 0;
    if (one === other) continue;
    const steadyStep = (drift.linear[other] ?? 0) - (drift.linear[one] ?? 0);
    const bendingStep = (drift.quadratic[other] ?? 0) - (drift.quadratic[one] ?? 0);
    const [first, second] = [order[one] ?? 0, order[other] ?? 0];
    let after = 0;
    for (const { column, steady, bending } of sums) {
      const difference = (column[first] ?? 0) - (column[second] ?? 0);
      after +=
        (steady + difference * steadyStep) ** 2 + bendingWeight * (bending + difference * bendingStep) ** 2;
    }
    const heat = search.heat * (1 - move / MOVES) ** 3;
    if (after > current && (heat <= 0 || random.next() >= Math.exp((current - after) / heat))) continue;
    order[one] = second;
    order[other] = first;
    for (const sum of sums) {
      const difference = (sum.column[first] ?? 0) - (sum.column[second] ?? 0);
      sum.steady += difference * steadyStep;
      sum.bending += difference * bendingStep;
    }
    current = move % 1000 === 999 ? sumUp() : after;
    if (current < least * (1 - 1e-9)) {
      least = current;
      best = [...order];
    }
  }
  return best;
}
