import type { OrderingOptions } from "../common-options.ts";
import { listed } from "../../units/index.ts";
import { hasBorders } from "./borders.ts";
import { correlationText, driftWords } from "./drift-sentences.ts";
import { groupedOrder } from "./grouped-order.ts";
import { orderMeasurer, worst, type OrderMeasure, type OrderProblem } from "./order-measure.ts";
import { searchOrder, type OrderSearch } from "./order-search.ts";
import { changesTooMany, settingChanges } from "./setting-changes.ts";

/** Searches from different random numbers; the best is kept. */
const STARTS = 3;
/** What a correlation of 1 above the allowed one costs, in changes of every factor at every step. */
const OVER_WEIGHT = 4;
/** Below so many moves a run a search is too short to be trusted. */
const SHORT = 10;
/** Correlations that meet what is allowed to so much are on it. */
const SLACK = 1e-9;

/**
 * The order with the fewest changes of settings (weighted by factor) in which drift moves no protected term by more than the
 * allowed correlation; says how many changes remain and what drift can do for it.
 */
export function fewestChanges(
  problem: OrderProblem,
  search: OrderSearch,
  options: OrderingOptions,
): { readonly order: readonly number[]; readonly rules: readonly string[] } {
  const measure = orderMeasurer(problem);
  const allowed = options.changes?.allowedCorrelation ?? 0.1;
  const cuts = hasBorders(problem.borders);
  const { weights, limits } = problem.changes;
  const every = weights.reduce((sum, weight) => sum + weight, 0) * Math.max(1, problem.runs.length - 1);
  const over = ({ steady, bending, between }: OrderMeasure): number => {
    let sum = 0;
    for (let index = 0; index < steady.length; index += 1) {
      sum += Math.max(0, Math.abs(steady[index] ?? 0) - allowed - SLACK);
      sum += Math.max(0, Math.abs(bending[index] ?? 0) - allowed - SLACK);
      if (cuts) sum += Math.max(0, (between[index] ?? 0) - allowed - SLACK);
    }
    return sum;
  };
  const loss = (order: ArrayLike<number>): number => {
    const tooMuch = allowed >= 1 && !cuts ? 0 : over(measure(order));
    return (
      settingChanges(problem.changes, order).weighted +
      (tooMuch > 0 ? 1 + OVER_WEIGHT * tooMuch : 0) * every +
      (limits.length === 0 ? 0 : every * changesTooMany(problem.changes, order))
    );
  };
  const heat = Math.max(...weights, 1e-9);
  let order = search.start;
  for (let start = 0; start < STARTS; start += 1) {
    const found = searchOrder({ ...search, loss, heat, turning: true });
    if (loss(found) < loss(order)) order = found;
  }
  const byWeight = [...weights.keys()].sort((one, other) => (weights[other] ?? 0) - (weights[one] ?? 0));
  const grouped = groupedOrder(problem, search, byWeight);
  if (loss(grouped.order) < loss(order)) {
    order = searchOrder({ ...search, start: grouped.order, plots: grouped.plots, loss, heat, turning: true });
  }
  return { order, rules: rulesOf(problem, search, options, order, allowed) };
}

function rulesOf(
  problem: OrderProblem,
  search: OrderSearch,
  { seed, protect, changes }: OrderingOptions,
  order: readonly number[],
  allowed: number,
): readonly string[] {
  const measured = orderMeasurer(problem)(order);
  const drift = problem.contrasts.map(({ label }, index) => ({
    label,
    linear: measured.steady[index] ?? 0,
    quadratic: measured.bending[index] ?? 0,
  }));
  const { byFactor, weighted } = settingChanges(problem.changes, order);
  const total = byFactor.reduce((sum, count) => sum + count, 0);
  const each = problem.factors.map((factor, index) => `${factor.name} ${byFactor[index] ?? 0}`);
  const before = settingChanges(problem.changes, search.start).byFactor.reduce(
    (sum, count) => sum + count,
    0,
  );
  const weighs = Object.keys(changes?.weights ?? {}).length > 0;
  const what = protect ? "protected term" : "main effect";
  const most = Math.max(worst(measured.steady), worst(measured.bending));
  return [
    `Fewest changes of settings by a search from seed ${seed}: ${total} from run to run (${listed(each)})${weighs ? `, weighing ${Number(weighted.toPrecision(6))}` : ""}; the drift-proof order has ${before}.`,
    most <= allowed + SLACK
      ? `Paid for with drift, of which a correlation of ${allowed} with a ${what} was allowed: ${driftWords(drift, protect)}.`
      : `No order was found that keeps drift to the allowed correlation of ${allowed}; in this one it is ${correlationText(most)}: ${driftWords(drift, protect)}. Allow more, or take more runs.`,
    ...(search.moves < SHORT * search.start.length
      ? [
          `With ${search.start.length.toLocaleString("en")} runs the search was kept short (${search.moves.toLocaleString("en")} moves from each start): an order with fewer changes may well exist.`,
        ]
      : []),
  ];
}
