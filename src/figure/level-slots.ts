import type { DrawnRun } from "./reading-marks.ts";
import type { ResponseGroup } from "./response-groups.ts";

/** Where things stand beside a category's level: sideways from the level's own place, in units of the drawing. */
export interface LevelSlots {
  /** The interval bar of each group. */
  readonly bars: readonly number[];
  /** Each run. */
  readonly runs: readonly number[];
}

/** Gives each group a slot at every level, its interval bar at the left of the slot and its runs in a row right of it. */
export function levelSlots(
  groups: readonly ResponseGroup[],
  runs: readonly DrawnRun[],
  room: number,
): LevelSlots {
  const places = runs.map((run) => `${run.style.symbol} ${run.x}`);
  const counts = new Map<string, number>();
  for (const place of places) counts.set(place, (counts.get(place) ?? 0) + 1);
  const most = Math.max(1, ...counts.values());
  const slot = (room * 0.85) / groups.length;
  const step = Math.min(14, Math.max(slot - 34, 4) / most);
  // What a slot really uses, so that groups stay near their level's name.
  const used = Math.min(slot, 34 + step * most);
  const left = (index: number): number => (index - groups.length / 2) * used;
  const seen = new Map<string, number>();
  return {
    bars: groups.map((_, index) => left(index) + 9),
    runs: runs.map((run, index) => {
      const place = places[index];
      const before = seen.get(place) ?? 0;
      seen.set(place, before + 1);
      const group = groups.findIndex((each) => each.style.symbol === run.style.symbol);
      return left(Math.max(group, 0)) + 27 + step * before;
    }),
  };
}
