import type { CommonOptions } from "../common-options.ts";
import type { StandardRun } from "../layout.ts";
import { hasBorders } from "./borders.ts";
import { constructed } from "./constructed-order.ts";
import { orderMeasurer, ROUNDING, type OrderProblem } from "./order-measure.ts";
import { searchOrder, type OrderSearch } from "./order-search.ts";
import { changesTooMany } from "./setting-changes.ts";

/** How much a bending drift counts beside a steady one: wear and warming are steady first of all. */
const BENDING_WEIGHT = 0.05;
/** One large change too many outweighs every correlation. */
const TOO_MANY_WEIGHT = 10;

/**
 * The order in which protected terms move least with drift by the clock, and stand least between pieces where borders cut the
 * order. Where the runs are a two-level factorial or fraction, the orders that the construction gives are tried first; where
 * every run has its like, an order whose second half is the first one backwards, over which a steady drift moves nothing;
 * then a search.
 */
export function leastDriftInMinutes(
  problem: OrderProblem,
  search: OrderSearch,
  options: Pick<CommonOptions, "protect" | "seed">,
): { readonly order: readonly number[]; readonly made: string } {
  const measure = orderMeasurer(problem);
  const cuts = hasBorders(problem.borders);
  const loss = (order: ArrayLike<number>): number => {
    const { steady, bending, between } = measure(order);
    let sum = 0;
    for (let index = 0; index < steady.length; index += 1) {
      sum += (steady[index] ?? 0) ** 2 + BENDING_WEIGHT * (bending[index] ?? 0) ** 2;
      if (cuts) sum += (between[index] ?? 0) ** 2;
    }
    return sum + TOO_MANY_WEIGHT * changesTooMany(problem.changes, order);
  };
  const isExact = (order: readonly number[]) => loss(order) < ROUNDING ** 2;
  const single = [...search.plots.values()].every((plots) => plots.every((plot) => plot.length === 1));
  const built = single ? builtOrder(problem, search, options, loss) : undefined;
  const byConstruction = `by construction from seed ${options.seed}`;
  if (built && isExact(built)) return { order: built, made: byConstruction };
  const start = built && loss(built) < loss(search.start) ? built : search.start;
  const plotsOf = (order: readonly number[]) => plotsAt(search, order);
  const candidates: { readonly order: readonly number[]; readonly made: string }[] = [
    ...(built ? [{ order: built, made: byConstruction }] : []),
    {
      order: searchOrder({
        ...search,
        start,
        plots: single ? plotsOf(start) : search.plots,
        loss,
        heat: 0.02,
      }),
      made: `by a search from seed ${options.seed}`,
    },
  ];
  const mirror = single && !cuts ? mirroredStart(problem, search) : undefined;
  if (mirror) {
    candidates.push({
      order: searchOrder({
        ...search,
        start: mirror,
        plots: plotsOf(mirror),
        loss,
        heat: 0.02,
        mirrored: true,
      }),
      made: `whose second half is the first one backwards, by a search from seed ${options.seed}`,
    });
  }
  return candidates.reduce((best, one) => (loss(one.order) < loss(best.order) * (1 - 1e-9) ? one : best));
}

function plotsAt(search: OrderSearch, order: readonly number[]): OrderSearch["plots"] {
  const plots = new Map<number, number[][]>();
  search.slots.forEach((slot, place) => {
    if (slot.fixed) return;
    const own = plots.get(slot.block);
    if (own) own.push([order[place] ?? 0]);
    else plots.set(slot.block, [[order[place] ?? 0]]);
  });
  return plots;
}

/** The best that the trend-free construction gives for these minutes, block by block; undefined where no block has one. */
function builtOrder(
  problem: OrderProblem,
  search: OrderSearch,
  options: Pick<CommonOptions, "protect">,
  loss: (order: ArrayLike<number>) => number,
): readonly number[] | undefined {
  const { factors, runs } = problem;
  const indexOf = new Map(runs.map((run, index) => [run.standard, index]));
  const indices = (order: readonly StandardRun[]) => order.map((run) => indexOf.get(run.standard) ?? 0);
  let order = search.start;
  let found = false;
  for (const [block, plots] of search.plots) {
    const places = search.slots.flatMap((slot, place) =>
      slot.block === block && !slot.fixed ? [place] : [],
    );
    const own = plots
      .flatMap(([index]) => (index === undefined ? [] : [runs[index]]))
      .filter((run) => run !== undefined);
    const placed = (part: readonly StandardRun[]): readonly number[] => {
      const changed = [...order];
      indices(part).forEach((index, at) => (changed[places[at] ?? 0] = index));
      return changed;
    };
    const built = constructed(factors, own, search.random, {
      protect: options.protect,
      lossOf: (part) => loss(placed(part)),
      tries: Math.min(3000, Math.floor(search.moves / search.plots.size)),
    });
    if (!built) continue;
    order = placed(built);
    found = true;
  }
  return found ? order : undefined;
}

/** Every second run of each setting put backwards into the second half; undefined where some run has no like in its block. */
function mirroredStart(problem: OrderProblem, search: OrderSearch): readonly number[] | undefined {
  const order = [...search.start];
  for (const [block, plots] of search.plots) {
    const places = search.slots.flatMap((slot, place) =>
      slot.block === block && !slot.fixed ? [place] : [],
    );
    const indices = plots.flat();
    const waiting = new Map<string, number>();
    const pairs: (readonly [number, number])[] = [];
    for (const index of indices) {
      const key = JSON.stringify(problem.factors.map((_, factor) => problem.changes.levels[factor]?.[index]));
      const other = waiting.get(key);
      if (other === undefined) waiting.set(key, index);
      else {
        pairs.push([other, index]);
        waiting.delete(key);
      }
    }
    if (waiting.size > 0) return undefined;
    pairs.forEach(([one, other], at) => {
      order[places[at] ?? 0] = one;
      order[places[places.length - 1 - at] ?? 0] = other;
    });
  }
  return order;
}
