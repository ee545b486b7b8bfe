import type { OrderProblem } from "./order-measure.ts";
import type { OrderSearch, Plots } from "./order-search.ts";

/**
 * The order in which like settings stand together: by the levels of the first factor named, within these by the next one
 * turned around each time (as in a Gray code), block by block. Few settings change from run to run, whatever drift does to it.
 * Runs that nothing tells apart stay as they stood; whole plots stay together.
 *
 * @param places the factors by number, the one that shall change least first
 */
export function groupedOrder(
  problem: OrderProblem,
  search: Pick<OrderSearch, "slots" | "start" | "plots">,
  places: readonly number[],
): { readonly order: readonly number[]; readonly plots: ReadonlyMap<number, Plots> } {
  const keys = places.map((place) => settingRanks(problem, place));
  const plots = new Map<number, Plots>();
  const order = [...search.start];
  let backwards = false;
  for (const [block, own] of search.plots) {
    const within = own.map((plot) =>
      arranged(
        plot.map((index) => [index]),
        keys,
        false,
      ).flat(),
    );
    const grouped = arranged(within, keys, backwards);
    backwards = !backwards;
    plots.set(block, grouped);
    const open = search.slots.flatMap((slot, place) => (slot.block === block && !slot.fixed ? [place] : []));
    grouped.flat().forEach((index, at) => (order[open[at] ?? 0] = index));
  }
  return { order, plots };
}

/** Each run's setting of a factor by rank, so that neighbours in rank are neighbours in size. */
function settingRanks({ factors, runs }: OrderProblem, place: number): readonly number[] {
  const name = factors[place]?.name ?? "";
  const settings = runs.map((run) => run.settings[name] ?? "");
  const distinct = [...new Set(settings)].sort((one, other) =>
    typeof one === "number" && typeof other === "number" ? one - other : 0,
  );
  const ranks = new Map(distinct.map((setting, rank) => [setting, rank]));
  return settings.map((setting) => ranks.get(setting) ?? 0);
}

/** Plots grouped by the first key, the groups in rising or falling order, each arranged by the keys that follow. */
function arranged(plots: Plots, keys: readonly (readonly number[])[], backwards: boolean): Plots {
  const [key, ...rest] = keys;
  if (!key || plots.length < 2) return plots;
  const groups = new Map<number, (readonly number[])[]>();
  for (const plot of plots) {
    const level = key[plot[0] ?? 0] ?? 0;
    const group = groups.get(level);
    if (group) group.push(plot);
    else groups.set(level, [plot]);
  }
  const levels = [...groups.keys()].sort((one, other) => (backwards ? other - one : one - other));
  return levels.flatMap((level, at) => arranged(groups.get(level) ?? [], rest, at % 2 === 1));
}
