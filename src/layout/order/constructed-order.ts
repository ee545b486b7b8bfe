import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { StandardRun } from "../layout.ts";
import { settingsKey } from "../levels.ts";
import { trendFreeOrder } from "./drift-construction.ts";

interface Random {
  readonly integer: (below: number) => number;
}

/**
 * A block of whole replicates of a two-level factorial or fraction in trend-free order, replicate after replicate. Undefined
 * where the runs are no such thing.
 *
 * With `lossOf` the order is the best that the construction gives where passes take unequal times. Every second replicate is
 * then the one before backwards: a steady drift moves nothing over such a pair, however long its passes are.
 */
export function constructed(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
  random: Random,
  options: {
    readonly protect?: readonly Term[] | undefined;
    readonly lossOf?: (order: readonly StandardRun[]) => number;
    readonly tries?: number;
  } = {},
): readonly StandardRun[] | undefined {
  const moving = factors
    .map((factor) => [...new Set(runs.map((run) => run.settings[factor.name]))])
    .map((levels, index) => ({ name: factors[index]?.name ?? "", levels }))
    .filter(({ levels }) => levels.length > 1);
  if (moving.length === 0 || moving.length > 30 || moving.some(({ levels }) => levels.length !== 2))
    return undefined;
  const groups = new Map<string, StandardRun[]>();
  for (const run of runs) {
    const key = settingsKey(factors, run.settings);
    groups.set(key, [...(groups.get(key) ?? []), run]);
  }
  const distinct = [...groups.values()];
  const replicates = distinct[0]?.length ?? 0;
  if (distinct.some((group) => group.length !== replicates)) return undefined;
  const points = distinct.map((group) =>
    moving.reduce(
      (bits, { name, levels }, bit) => bits | (group[0]?.settings[name] === levels[1] ? 1 << bit : 0),
      0,
    ),
  );
  const masks = masksOf(
    moving.map(({ name }) => name),
    factors,
    options.protect,
  );
  const { lossOf, tries } = options;
  const inTurn = (orders: readonly (readonly number[])[]) =>
    orders
      .flatMap((order, replicate) => order.map((point) => distinct[point]?.[replicate]))
      .filter((run) => run !== undefined);
  if (lossOf) {
    const turned = (order: readonly number[]) =>
      inTurn(Array.from({ length: replicates }, (_, at) => (at % 2 === 0 ? order : [...order].reverse())));
    const found = trendFreeOrder(points, masks, random, {
      lossOf: (order) => lossOf(turned(order)),
      ...(tries === undefined ? {} : { tries }),
    });
    return found && turned(found.order);
  }
  const orders: (readonly number[])[] = [];
  for (let replicate = 0; replicate < replicates; replicate += 1) {
    const found = trendFreeOrder(points, masks, random);
    if (!found) return undefined;
    orders.push(found.order);
  }
  return inTurn(orders);
}

/** Terms as bits of the factors that move; an even power never moves at two levels. */
function masksOf(
  moving: readonly string[],
  factors: readonly Factor[],
  protect: readonly Term[] | undefined,
): readonly number[] {
  const terms = protect ?? factors.map((factor): Term => ({ [factor.name]: 1 }));
  return terms
    .map((term) => moving.reduce((bits, name, bit) => bits | ((term[name] ?? 0) % 2 === 1 ? 1 << bit : 0), 0))
    .filter((mask) => mask > 0);
}
