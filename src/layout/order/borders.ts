import type { Settings } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import type { CutClock } from "./cut-clock.ts";
import type { BorderKind, OrderOptions } from "./order-options.ts";

export const borderKinds: readonly BorderKind[] = ["edge", "shift", "part"];

/** How long one of a kind lasts, in the two measures in which it can be used up. */
interface Capacity {
  readonly kind: BorderKind;
  readonly passes: number;
  readonly minutes: number;
  /** Minutes that each pass after the first adds beside its cut: a shift goes on between passes, wear does not. */
  readonly between: number;
}

/** Rules that cut an order into pieces: each piece is one block. */
export interface BorderRules {
  readonly capacities: readonly Capacity[];
  /** Passes of an analysed warm-up, a piece of its own; 0 without one. */
  readonly warmUpPasses: number;
}

/** A sum that meets its limit to a part in a thousand million is on it: 120 × 0.1 is 12. */
const SLACK = 1 + 1e-9;

/** The borders that the options ask for; refused where minutes are named and can't be reckoned. */
export function borderRules(options: OrderOptions, clock: CutClock): BorderRules {
  const capacities = borderKinds.flatMap((kind): readonly Capacity[] => {
    const lasts = options.borders?.[kind];
    if (lasts?.passes === undefined && lasts?.minutes === undefined) {
      if (lasts === undefined) return [];
      throw new LayoutError(
        `layout.borders.${kind}: says neither passes nor minutes. Say how long one ${kind} lasts, such as { "passes": 8 }.`,
      );
    }
    if (lasts.minutes !== undefined && clock.unit === "runs") {
      throw new LayoutError(
        `layout.borders.${kind}.minutes: minutes of cut can't be reckoned: ${clock.why}. State that, or say how many passes one ${kind} lasts.`,
      );
    }
    const between = kind === "shift" ? clock.minutesBetween : 0;
    return [{ kind, passes: lasts.passes ?? Infinity, minutes: lasts.minutes ?? Infinity, between }];
  });
  const { warmUp } = options;
  return { capacities, warmUpPasses: warmUp?.analysed === true ? warmUp.passes : 0 };
}

export function hasBorders({ capacities, warmUpPasses }: BorderRules): boolean {
  return capacities.length > 0 || warmUpPasses > 0;
}

/** True where one edge, shift and part takes all these runs, in whatever order. */
export function fitsWhole(
  runs: readonly { readonly settings: Settings }[],
  clock: CutClock,
  { capacities }: BorderRules,
): boolean {
  const durations = runs.map(({ settings }) => clock.of(settings));
  return capacities.every(
    (capacity) => lastingFrom(durations, 0, runs.length, capacity, 0, 0) === runs.length,
  );
}

/** Refuses a pass that outlasts a whole edge, shift or part: no border would help. */
export function refuseLongPass({ capacities }: BorderRules, durations: ArrayLike<number>): void {
  const longest = Array.from(durations).reduce((most, minutes) => Math.max(most, minutes), 0);
  for (const { kind, minutes } of capacities) {
    if (longest <= minutes * SLACK) continue;
    throw new LayoutError(
      `layout.borders.${kind}.minutes: one ${kind} lasts ${minutes} minutes and the longest pass takes ${longest.toPrecision(3)}. Shorten the pass, raise the feed or the speed, or state at least ${Math.ceil(longest * 100) / 100} minutes.`,
    );
  }
}

/**
 * Cuts an order into pieces: a piece ends where an edge, a shift or a part is used up, after an analysed warm-up, and where
 * the layout's own block ends. Returns for each place its piece, from 0.
 *
 * An edge, shift or part that would leave a piece shorter than half of what another allows is changed early, at the border
 * that is there already: a few large blocks tell more than many small ones. It is changed early as well where it would end
 * inside a whole plot, or one of the layout's own blocks, that a fresh one takes as a whole.
 */
export function piecesOf(
  durations: ArrayLike<number>,
  blocks: readonly number[],
  { capacities, warmUpPasses }: BorderRules,
  plots?: readonly (number | undefined)[],
): Int32Array {
  const runs = durations.length;
  const piece = new Int32Array(runs);
  const passes = new Float64Array(capacities.length);
  const minutes = new Float64Array(capacities.length);
  const takes = (index: number, place: number): boolean => {
    const one = capacities[index];
    if (!one) return true;
    const more = (durations[place] ?? 0) + ((passes[index] ?? 0) > 0 ? one.between : 0);
    return (passes[index] ?? 0) + 1 <= one.passes && (minutes[index] ?? 0) + more <= one.minutes * SLACK;
  };
  const severalBlocks = blocks.some((block) => block !== blocks[0]);
  /** True where a group of runs begins that one in use would not outlast and a fresh one would. */
  const splits = (index: number, place: number, groups: readonly (number | undefined)[]): boolean => {
    const group = groups[place];
    if (group === undefined || place === 0 || groups[place - 1] === group) return false;
    let end = place + 1;
    while (end < runs && groups[end] === group) end += 1;
    const lasting = (used: readonly [number, number]) =>
      lastingFrom(durations, place, end, capacities[index], ...used);
    return (
      lasting([passes[index] ?? 0, minutes[index] ?? 0]) < end - place && lasting([0, 0]) === end - place
    );
  };
  const renew = (index: number): void => {
    passes[index] = 0;
    minutes[index] = 0;
  };
  let current = 0;
  for (let place = 0; place < runs; place += 1) {
    const forced = place > 0 && (blocks[place] !== blocks[place - 1] || place === warmUpPasses);
    let full = false;
    for (let index = 0; index < capacities.length; index += 1) {
      const early =
        (plots !== undefined && splits(index, place, plots)) ||
        (severalBlocks && splits(index, place, blocks));
      if (takes(index, place) && !early) continue;
      renew(index);
      full = true;
    }
    if (place > 0 && (full || forced)) {
      current += 1;
      const end = endOfForced(place, blocks, warmUpPasses);
      for (let index = 0; index < capacities.length; index += 1) {
        const left = lastingFrom(
          durations,
          place,
          end,
          capacities[index],
          passes[index] ?? 0,
          minutes[index] ?? 0,
        );
        const others = capacities.reduce(
          (least, one, other) =>
            other === index
              ? least
              : Math.min(
                  least,
                  lastingFrom(durations, place, end, one, passes[other] ?? 0, minutes[other] ?? 0),
                ),
          lastingFrom(durations, place, end, capacities[index], 0, 0),
        );
        if (2 * left < others) renew(index);
      }
    }
    capacities.forEach((one, index) => {
      minutes[index] =
        (minutes[index] ?? 0) + (durations[place] ?? 0) + ((passes[index] ?? 0) > 0 ? one.between : 0);
      passes[index] = (passes[index] ?? 0) + 1;
    });
    piece[place] = current;
  }
  return piece;
}

/** The place after the last one that the layout's own block, or the warm-up, lets a piece reach. */
function endOfForced(place: number, blocks: readonly number[], warmUpPasses: number): number {
  let end = place + 1;
  while (end < blocks.length && blocks[end] === blocks[place] && end !== warmUpPasses) end += 1;
  return end;
}

/** How many passes from a place one edge, shift or part still takes, up to an end. */
function lastingFrom(
  durations: ArrayLike<number>,
  from: number,
  end: number,
  capacity: Capacity | undefined,
  usedPasses: number,
  usedMinutes: number,
): number {
  if (!capacity) return end - from;
  let [passes, minutes] = [usedPasses, usedMinutes];
  for (let place = from; place < end; place += 1) {
    minutes += (durations[place] ?? 0) + (passes > 0 ? capacity.between : 0);
    passes += 1;
    if (passes > capacity.passes || minutes > capacity.minutes * SLACK) return place - from;
  }
  return end - from;
}

/** What is changed before a run. */
export interface Border {
  /** Place from 0 of the first run after it. */
  readonly place: number;
  readonly kinds: readonly BorderKind[];
}

/**
 * Which of edge, shift and part is changed at each border between blocks: one that can't take the whole next block is
 * changed before it. Borders at which nothing need be changed are left out.
 */
export function changesAtBorders(
  durations: ArrayLike<number>,
  blocks: readonly number[],
  { capacities }: BorderRules,
): readonly Border[] {
  const used = capacities.map(() => ({ passes: 0, minutes: 0 }));
  const borders: Border[] = [];
  let start = 0;
  while (start < blocks.length) {
    let end = start + 1;
    while (end < blocks.length && blocks[end] === blocks[start]) end += 1;
    const kinds: BorderKind[] = [];
    capacities.forEach((one, index) => {
      const state = used[index] ?? { passes: 0, minutes: 0 };
      if (lastingFrom(durations, start, end, one, state.passes, state.minutes) < end - start) {
        if (start > 0) kinds.push(one.kind);
        Object.assign(state, { passes: 0, minutes: 0 });
      }
      for (let place = start; place < end; place += 1) {
        state.minutes += (durations[place] ?? 0) + (state.passes > 0 ? one.between : 0);
        state.passes += 1;
      }
    });
    if (kinds.length > 0) borders.push({ place: start, kinds });
    start = end;
  }
  return borders;
}
