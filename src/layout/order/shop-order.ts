import type { SeededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { OrderingOptions } from "../common-options.ts";
import { LayoutError } from "../error.ts";
import type { StandardRun } from "../layout.ts";
import { borderSentences } from "./border-sentences.ts";
import { borderRules, changesAtBorders, hasBorders, refuseLongPass } from "./borders.ts";
import { isEven, type CutClock } from "./cut-clock.ts";
import { protectedContrasts, type DriftCorrelation } from "./drift.ts";
import { clockRule, driftWords, isDriftRule } from "./drift-sentences.ts";
import { fewestChanges } from "./fewest-changes.ts";
import { groupedOrder } from "./grouped-order.ts";
import { leastDriftInMinutes } from "./least-drift-in-minutes.ts";
import { orderMeasurer, type OrderProblem } from "./order-measure.ts";
import { movesFor, searchOrder, wanderOrder, type OrderSearch, type Plots } from "./order-search.ts";
import { changeRules, changesTooMany, largeChangesIn } from "./setting-changes.ts";
import type { Slot } from "./slots.ts";

interface Ordered {
  readonly runs: readonly StandardRun[];
  readonly rules: readonly string[];
}

interface ShopRequest {
  readonly factors: readonly Factor[];
  readonly slots: readonly Slot[];
  /** The order so far, drift counted in runs. */
  readonly made: Ordered;
  readonly options: OrderingOptions;
  readonly clock: CutClock;
  readonly random: SeededRandom;
}

/**
 * Fits an order to the shop: drift in minutes of cut, changes of edge, shift and part as borders of blocks, a limit to large
 * changes, the fewest changes of settings. Whole plots stay together. What is not asked for is left as it is.
 */
export function shopOrder(request: ShopRequest): Ordered {
  const { factors, made, options, clock } = request;
  refuseWithoutUse(options);
  const borders = borderRules(options, clock);
  const durations = Float64Array.from(made.runs, ({ settings }) => clock.of(settings));
  refuseLongPass(borders, durations);
  const problem: OrderProblem = {
    factors,
    runs: made.runs,
    durations,
    clock,
    contrasts: protectedContrasts(
      factors,
      made.runs.map(({ settings }) => settings),
      options.protect,
    ),
    borders,
    changes: changeRules(factors, made.runs, options),
  };
  const found = searched(request, problem);
  const measured = orderMeasurer(problem)(found.order);
  const cut = hasBorders(borders);
  const runs = found.order
    .map((index) => made.runs[index])
    .filter((run) => run !== undefined)
    .map((run, place) => (cut ? { ...run, block: (measured.pieces[place] ?? 0) + 1 } : run));
  if (!cut) return { runs, rules: found.rules };
  const inOrder = Float64Array.from(found.order, (index) => durations[index] ?? 0);
  const changes = changesAtBorders(
    inOrder,
    runs.map(({ block }) => block),
    borders,
  );
  return {
    runs,
    rules: [
      ...borderSentences({
        runs,
        durations: inOrder,
        borders,
        changes,
        options,
        contrasts: problem.contrasts,
        between: measured.between,
      }),
      ...found.rules,
    ],
  };
}

/** Refuses an option that the order asked for would not heed. */
function refuseWithoutUse({ order, protect, changes, borders, warmUp }: OrderingOptions): void {
  if (changes && order !== "fewest-changes") {
    throw new LayoutError(
      `layout.changes: the order "${order}" does not look at changes of settings. Take "order": "fewest-changes", or leave "changes" out.`,
    );
  }
  const orders = order === "drift-proof" || order === "fewest-changes";
  if (protect && !orders && !borders && warmUp?.analysed !== true) {
    throw new LayoutError(
      `layout.protect: the order "${order}" protects no term. Take "order": "drift-proof", or leave "protect" out.`,
    );
  }
}

interface Found {
  readonly order: readonly number[];
  readonly rules: readonly string[];
}

/** The order that the options ask for, as indices of the runs made so far, with what it obeys. */
function searched(request: ShopRequest, problem: OrderProblem): Found {
  const { made, options, slots, clock, random } = request;
  const start = made.runs.map((_, index) => index);
  const search: OrderSearch = {
    slots,
    start,
    plots: plotsByBlock(slots, made.runs),
    loss: () => 0,
    random,
    heat: 0,
    moves: movesFor(start.length, problem.contrasts.length),
    turning: false,
    mirrored: false,
    enough: 0,
  };
  const others = made.rules.filter((rule) => !isDriftRule(rule));
  if (options.order === "fewest-changes") {
    const { order, rules } = fewestChanges(problem, search, options);
    return { order, rules: [...rules, clockRule(clock), ...largeRules(problem, order), ...others] };
  }
  if (options.order === "as-listed") {
    refuseTooMany(problem, start, () => 'As listed the order is not changed; take "order": "random".');
    return { order: start, rules: [...made.rules, ...largeRules(problem, start)] };
  }
  if (options.order === "drift-proof") {
    const plain =
      isEven(problem.durations) && !hasBorders(problem.borders) && problem.changes.limits.length === 0;
    if (plain) return { order: start, rules: [...made.rules, clockRule(clock)] };
    const { order, made: how } = withinLimits(problem, search, (from) =>
      leastDriftInMinutes(problem, from, options),
    );
    refuseTooMany(problem, order, () => fewestFound(problem, search, order));
    const said = driftWords(driftOf(problem, order), options.protect);
    return {
      order,
      rules: [
        `Drift-proof order ${how}: ${said}.`,
        clockRule(clock),
        ...largeRules(problem, order),
        ...others,
      ],
    };
  }
  if (!hasBorders(problem.borders) && problem.changes.limits.length === 0) {
    return { order: start, rules: made.rules };
  }
  const { order } = withinLimits(problem, search, (from) => ({ order: randomWithin(problem, from) }));
  refuseTooMany(problem, order, () => fewestFound(problem, search, order));
  return { order, rules: [...made.rules, ...largeRules(problem, order)] };
}

/** A random order within its limits: balanced over the borders, few large changes, and otherwise left to chance. */
function randomWithin(problem: OrderProblem, search: OrderSearch): readonly number[] {
  const measure = orderMeasurer(problem);
  const cuts = hasBorders(problem.borders);
  const loss = (order: ArrayLike<number>): number => {
    const mixed = cuts ? measure(order).between.reduce((sum, value) => sum + value * value, 0) : 0;
    return mixed + 10 * changesTooMany(problem.changes, order);
  };
  const allowed = searchOrder({ ...search, loss, heat: 0.02, enough: 1e-20 });
  return wanderOrder({ ...search, start: allowed, plots: plotsIn(search, problem, allowed), loss });
}

function plotsIn(
  search: OrderSearch,
  problem: OrderProblem,
  order: readonly number[],
): ReadonlyMap<number, Plots> {
  return plotsByBlock(search.slots, problem.runs, order);
}

/** Runs of each block that stay together, in the order given; a run without whole plot stands by itself. */
function plotsByBlock(
  slots: readonly Slot[],
  runs: readonly StandardRun[],
  order: readonly number[] = runs.map((_, index) => index),
): ReadonlyMap<number, Plots> {
  const plots = new Map<number, number[][]>();
  let last: number | undefined;
  slots.forEach((slot, place) => {
    if (slot.fixed) return;
    const index = order[place] ?? 0;
    const plot = runs[index]?.wholePlot;
    const own = plots.get(slot.block) ?? [];
    const before = own[own.length - 1];
    if (plot !== undefined && plot === last && before) before.push(index);
    else own.push([index]);
    plots.set(slot.block, own);
    last = plot;
  });
  return plots;
}

/** How far drift moves each protected term in an order. */
function driftOf(problem: OrderProblem, order: ArrayLike<number>): readonly DriftCorrelation[] {
  const { steady, bending } = orderMeasurer(problem)(order);
  return problem.contrasts.map(({ label }, index) => ({
    label,
    linear: steady[index] ?? 0,
    quadratic: bending[index] ?? 0,
  }));
}

function largeRules({ changes }: OrderProblem, order: readonly number[]): readonly string[] {
  return largeChangesIn(changes, order).map((count, index) => {
    const limit = changes.limits[index];
    return limit ? `At most ${limit.words(limit.most)}: this order has ${count}.` : "";
  });
}

function refuseTooMany({ changes }: OrderProblem, order: readonly number[], mend: () => string): void {
  const counts = largeChangesIn(changes, order);
  changes.limits.forEach((limit, index) => {
    const count = counts[index] ?? 0;
    if (count <= limit.most) return;
    throw new LayoutError(
      `layout.largeChanges: at most ${limit.words(limit.most)} ${limit.most === 1 ? "is" : "are"} asked for; this order has ${count}. ${mend()}`,
    );
  });
}

/** An order found from the start at hand; where that has too many large changes, from like settings standing together. */
function withinLimits<Made extends { readonly order: readonly number[] }>(
  problem: OrderProblem,
  search: OrderSearch,
  find: (search: OrderSearch) => Made,
): Made {
  const found = find(search);
  const tooMany = changesTooMany(problem.changes, found.order);
  if (tooMany === 0) return found;
  const grouped = groupedByLimits(problem, search);
  const other = find({ ...search, start: grouped.order, plots: grouped.plots });
  return changesTooMany(problem.changes, other.order) < tooMany ? other : found;
}

function groupedByLimits(problem: OrderProblem, search: OrderSearch): ReturnType<typeof groupedOrder> {
  return groupedOrder(
    problem,
    search,
    problem.changes.limits.map(({ place }) => place),
  );
}

/** The fewest large changes found when nothing else is looked at: never more than in the order at hand. */
function fewestFound(problem: OrderProblem, search: OrderSearch, atHand: readonly number[]): string {
  const loss = (order: ArrayLike<number>) =>
    largeChangesIn(problem.changes, order).reduce((sum, count) => sum + count, 0);
  const grouped = groupedByLimits(problem, search);
  const order = [
    atHand,
    searchOrder({ ...search, loss, heat: 1, turning: true }),
    searchOrder({ ...search, start: grouped.order, plots: grouped.plots, loss, heat: 1, turning: true }),
  ].reduce((best, one) => (loss(one) < loss(best) ? one : best));
  const counts = largeChangesIn(problem.changes, order);
  return `The fewest found: ${problem.changes.limits.map((limit, index) => limit.words(counts[index] ?? 0)).join("; ")}. State at least that many.`;
}
