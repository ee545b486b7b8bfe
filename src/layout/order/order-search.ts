import type { Slot } from "./slots.ts";

interface Random {
  readonly next: () => number;
  readonly integer: (below: number) => number;
}

/** Runs that stay together, by index; a run by itself is a plot of one. */
export type Plots = readonly (readonly number[])[];

export interface OrderSearch {
  readonly slots: readonly Slot[];
  /** Run index at each place. */
  readonly start: readonly number[];
  /** Plots of each block, in cutting order, as they stand in `start`; fixed places are no part of them. */
  readonly plots: ReadonlyMap<number, Plots>;
  /** What is to be made small; never negative. */
  readonly loss: (order: Int32Array) => number;
  readonly random: Random;
  /** Starting heat, in units of the loss. */
  readonly heat: number;
  readonly moves: number;
  /** Turning a stretch around finds orders with few changes; swaps alone seldom do. */
  readonly turning: boolean;
  /** The second half is the first one backwards and is kept so; plots are single runs then. */
  readonly mirrored: boolean;
  /** A loss at which to stop. */
  readonly enough: number;
}

/** Moves of one search, fewer where runs and contrasts are many, so that no search takes more than a second or so. */
export function movesFor(runs: number, contrasts: number): number {
  return Math.max(30, Math.min(15_000, Math.floor(3e7 / (runs * (contrasts + 6)))));
}

/**
 * Looks for the order of least loss by changes within one block (simulated annealing, cooling slowly): two plots or two runs
 * of one plot change places, or a stretch of plots is turned around. Never ends worse than it starts.
 */
export function searchOrder(search: OrderSearch): readonly number[] {
  const { random, moves, enough } = search;
  const state = { least: Infinity, best: search.start };
  walk(search, moves, {
    accepts: (after, current, move) => {
      if (after <= current) return true;
      const heat = search.heat * (1 - move / moves) ** 3;
      return heat > 0 && random.next() < Math.exp((current - after) / heat);
    },
    seen: (loss, order) => {
      if (loss < state.least * (1 - 1e-9)) {
        state.least = loss;
        state.best = [...order];
      }
      return state.least > enough;
    },
  });
  return state.best;
}

/**
 * Wanders at random among the orders that are no worse than the start: after enough steps each that can be reached is as likely
 * as any other (a Metropolis walk on an even distribution).
 */
export function wanderOrder(search: Omit<OrderSearch, "heat" | "enough">): readonly number[] {
  let last = search.start;
  let bound = Infinity;
  walk({ ...search, heat: 0, enough: 0 }, search.moves, {
    accepts: (after) => after <= bound,
    seen: (loss, order, move) => {
      if (bound === Infinity) bound = loss * (1 + 1e-9);
      if (move === search.moves - 1) last = [...order];
      return true;
    },
  });
  return last;
}

interface Walk {
  readonly accepts: (after: number, current: number, move: number) => boolean;
  /** Told of the start (move −1) and of where the walk stands after each move; false ends it. */
  readonly seen: (loss: number, order: Int32Array, move: number) => boolean;
}

function walk(search: OrderSearch, moves: number, { accepts, seen }: Walk): void {
  const { slots, random, loss } = search;
  const order = Int32Array.from(search.start);
  const groups = [...search.plots]
    .map(([block, plots]) => ({
      places: slots.flatMap((slot, place) => (slot.block === block && !slot.fixed ? [place] : [])),
      plots: plots.map((plot) => [...plot]),
    }))
    .filter(({ places }) => places.length > 1);
  const weights = groups.flatMap(({ places }, group) => places.map(() => group));
  let current = loss(order);
  if (!seen(current, order, -1) || groups.length === 0) return;
  for (let move = 0; move < moves; move += 1) {
    const group = groups[weights[random.integer(weights.length)] ?? 0];
    const undo =
      group &&
      (search.mirrored
        ? mirroredSwap(group.plots, random)
        : changed(group.plots, random, { turning: search.turning }));
    if (group && undo) {
      write(group, order);
      const after = loss(order);
      if (accepts(after, current, move)) {
        current = after;
      } else {
        undo();
        write(group, order);
      }
    }
    if (!seen(current, order, move)) return;
  }
}

/** Puts a block's plots, one after another, into its open places. */
function write(
  { places, plots }: { readonly places: readonly number[]; readonly plots: readonly (readonly number[])[] },
  order: Int32Array,
): void {
  let at = 0;
  for (const plot of plots) {
    for (const run of plot) {
      order[places[at] ?? 0] = run;
      at += 1;
    }
  }
}

type Undo = (() => void) | undefined;

/** Changes a block's plots in place and returns how to take it back. */
function changed(plots: number[][], random: Random, { turning }: { readonly turning: boolean }): Undo {
  const within = random.integer(plots.length);
  const plot = plots[within] ?? [];
  if (plot.length > 1 && (plots.length === 1 || random.integer(2) === 0)) {
    const one = random.integer(plot.length);
    const other = random.integer(plot.length);
    return one === other ? undefined : swap(plot, one, other);
  }
  const one = random.integer(plots.length);
  const other = random.integer(plots.length);
  if (one === other) return undefined;
  return turning && random.integer(3) > 0
    ? turn(plots, Math.min(one, other), Math.max(one, other))
    : swap(plots, one, other);
}

/** Swaps two places and the two that mirror them, so that the second half stays the first backwards. */
function mirroredSwap(plots: number[][], random: Random): Undo {
  const half = Math.floor(plots.length / 2);
  if (half < 2) return undefined;
  const one = random.integer(half);
  const other = random.integer(half);
  if (one === other) return undefined;
  const last = plots.length - 1;
  const first = swap(plots, one, other);
  const second = swap(plots, last - one, last - other);
  return () => {
    second();
    first();
  };
}

function swap<Item>(items: Item[], one: number, other: number): () => void {
  const change = () => {
    const [first, second] = [items[one], items[other]];
    if (first === undefined || second === undefined) return;
    items[one] = second;
    items[other] = first;
  };
  change();
  return change;
}

function turn<Item>(items: Item[], first: number, last: number): () => void {
  const change = () => {
    const stretch = items.slice(first, last + 1).reverse();
    items.splice(first, stretch.length, ...stretch);
  };
  change();
  return change;
}
