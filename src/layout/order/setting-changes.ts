import type { Factor, QuantityFactor, Setting, Settings } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { isQuantity, sameSetting } from "../levels.ts";
import { listed, withUnit } from "../../units/index.ts";
import type { LargeChanges, OrderOptions } from "./order-options.ts";

/** Costs of changes between the settings of two runs, as tables by factor and level. */
export interface ChangeRules {
  readonly weights: readonly number[];
  /** Level of each factor in each run, by factor then run index. */
  readonly levels: readonly Int32Array[];
  readonly limits: readonly LargeLimit[];
}

interface LargeLimit extends LargeChanges {
  readonly place: number;
  /** So many of them, in words. */
  readonly words: (count: number) => string;
  /** By level from and level to: true where the change is large. */
  readonly large: readonly (readonly boolean[])[];
}

export function changeRules(
  factors: readonly Factor[],
  runs: readonly { readonly settings: Settings }[],
  options: OrderOptions,
): ChangeRules {
  const weights = options.changes?.weights ?? {};
  for (const name of Object.keys(weights)) placeOf(factors, name, "layout.changes.weights");
  const lists = factors.map((factor) => distinct(runs.map(({ settings }) => settings[factor.name] ?? "")));
  return {
    weights: factors.map((factor) => weights[factor.name] ?? 1),
    levels: factors.map((factor, place) =>
      Int32Array.from(runs, ({ settings }) =>
        (lists[place] ?? []).findIndex((level) => sameSetting(level, settings[factor.name])),
      ),
    ),
    limits: (options.largeChanges ?? []).map((asked) => largeLimit(factors, lists, asked)),
  };
}

function placeOf(factors: readonly Factor[], name: string, path: string): number {
  const place = factors.findIndex((factor) => factor.name === name);
  if (place >= 0) return place;
  throw new LayoutError(
    `${path}: "${name}" is not a factor of this trial. It has ${listed(factors.map((factor) => factor.name))}.`,
  );
}

function distinct(settings: readonly Setting[]): readonly Setting[] {
  const found: Setting[] = [];
  const seen = new Set<Setting>();
  for (const setting of settings) {
    if (seen.has(setting)) continue;
    seen.add(setting);
    if (!found.some((level) => sameSetting(level, setting))) found.push(setting);
  }
  return found;
}

function largeLimit(
  factors: readonly Factor[],
  lists: readonly (readonly Setting[])[],
  asked: LargeChanges,
): LargeLimit {
  const place = placeOf(factors, asked.factor, "layout.largeChanges");
  const factor = factors[place];
  const levels = lists[place] ?? [];
  const { ratio, step } = asked;
  if (!factor || !isQuantity(factor)) {
    if (ratio !== undefined || step !== undefined) {
      throw new LayoutError(
        `layout.largeChanges: ${asked.factor} is a category and has neither ratio nor step. Leave both out: then every change of it counts.`,
      );
    }
    return limitOf(asked, place, ` of ${asked.factor}`, levels, () => true);
  }
  if ((ratio === undefined) === (step === undefined)) {
    throw new LayoutError(
      `layout.largeChanges: say what a large change of ${factor.name} is, by either "ratio" (such as 1.5) or "step"${inUnit(factor)}.`,
    );
  }
  if (ratio !== undefined && levels.some((level) => Number(level) <= 0)) {
    throw new LayoutError(
      `layout.largeChanges: ${factor.name} has settings that are not above zero, which have no ratio. Give "step"${inUnit(factor)}.`,
    );
  }
  const slack = 1 - 1e-9;
  return ratio !== undefined
    ? limitOf(
        asked,
        place,
        ` of ${factor.name} by ${ratio} times or more`,
        levels,
        (from, to) => Math.max(from / to, to / from) >= ratio * slack,
      )
    : limitOf(
        asked,
        place,
        ` of ${factor.name} by ${withUnit(String(step ?? 0), factor.unit)} or more`,
        levels,
        (from, to) => Math.abs(from - to) >= (step ?? 0) * slack,
      );
}

/** The unit that a number is to be given in; nothing where the factor has none. */
function inUnit({ unit }: QuantityFactor): string {
  return unit === "1" ? "" : ` in ${unit}`;
}

function limitOf(
  asked: LargeChanges,
  place: number,
  what: string,
  levels: readonly Setting[],
  isLarge: (from: number, to: number) => boolean,
): LargeLimit {
  const large = levels.map((from, one) =>
    levels.map((to, other) => one !== other && isLarge(Number(from), Number(to))),
  );
  return {
    ...asked,
    place,
    words: (count) => `${count} change${count === 1 ? "" : "s"}${what}`,
    large,
  };
}

/** Weighted and plain changes of settings from run to run in an order. */
export function settingChanges(
  { weights, levels }: ChangeRules,
  order: ArrayLike<number>,
): { readonly weighted: number; readonly byFactor: readonly number[] } {
  const byFactor = levels.map((level) => {
    let changes = 0;
    for (let place = 1; place < order.length; place += 1) {
      if (level[order[place] ?? 0] !== level[order[place - 1] ?? 0]) changes += 1;
    }
    return changes;
  });
  return {
    byFactor,
    weighted: byFactor.reduce((sum, changes, factor) => sum + changes * (weights[factor] ?? 1), 0),
  };
}

/** How many large changes of each limited factor an order has. */
export function largeChangesIn(rules: ChangeRules, order: ArrayLike<number>): readonly number[] {
  return rules.limits.map(({ place, large }) => {
    const level = rules.levels[place];
    let changes = 0;
    for (let at = 1; at < order.length; at += 1) {
      const from = level?.[order[at - 1] ?? 0] ?? 0;
      if (large[from]?.[level?.[order[at] ?? 0] ?? 0] === true) changes += 1;
    }
    return changes;
  });
}

/** Large changes above what is allowed, over all limits. */
export function changesTooMany(rules: ChangeRules, order: ArrayLike<number>): number {
  return largeChangesIn(rules, order).reduce(
    (sum, changes, index) => sum + Math.max(0, changes - (rules.limits[index]?.most ?? 0)),
    0,
  );
}
