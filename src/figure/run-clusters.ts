import type { Frame } from "./frame-box.ts";
import type { Place } from "./thin.ts";
import type { Run, RunRole } from "../trial/index.ts";

/** One mark for a run, or for all runs of a place where single ones have no room. */
export interface RunMark extends Place {
  readonly text: string;
  readonly radius: number;
  readonly role: RunRole;
}

/** The runs that stand at one place of the drawing. */
export interface Cluster {
  readonly marks: readonly RunMark[];
  /** Whether marks bear the runs' numbers, one mark the count of runs, or nothing for lack of room. */
  readonly written: "numbers" | "count" | "nothing";
}

/** How far apart marks with numbers stand, and how near they may come where settings are close. */
const usualSide = 23;
const leastSide = 19;

/**
 * Runs at one place side by side in rows, each mark with its run's number; one mark with the count where they would run into their
 * neighbours. `spacingOf` are the places of all panels, so that all panels are drawn alike.
 */
export function clusters(
  runs: readonly Run[],
  placed: (run: Run) => Place,
  options: { readonly room: Frame; readonly spacingOf: readonly Place[] },
): readonly Cluster[] {
  const { room, spacingOf } = options;
  const wide = gap(
    spacingOf.map(({ x }) => x),
    room.right - room.left,
  );
  const high = gap(
    spacingOf.map(({ y }) => y),
    room.bottom - room.top,
  );
  const most = spacingOf.length > 99 ? usualSide + 4 : usualSide;
  const side = Math.min(most, Math.max(leastSide, Math.min(wide, high)));
  const across = Math.max(1, Math.floor(wide / side));
  const down = Math.max(1, Math.floor(high / side));
  const groups = new Map<string, { place: Place; runs: Run[] }>();
  for (const run of runs) {
    const place = placed(run);
    const key = `${place.x.toFixed(2)},${place.y.toFixed(2)}`;
    const group = groups.get(key) ?? { place, runs: [] };
    group.runs.push(run);
    groups.set(key, group);
  }
  return [...groups.values()].map((group) =>
    arranged(group, { across, down, side, crowded: wide < side || high < side }),
  );
}

function arranged(
  group: { readonly place: Place; readonly runs: readonly Run[] },
  room: { readonly across: number; readonly down: number; readonly side: number; readonly crowded: boolean },
): Cluster {
  const { place, runs } = group;
  const count = runs.length;
  const [first] = runs;
  if (first === undefined) return { marks: [], written: "nothing" };
  // Settings nearer than a mark is wide: small marks without numbers, as many as there are places.
  if (room.crowded)
    return { marks: [{ ...place, text: "", radius: 4, role: first.role }], written: "nothing" };
  if (count > room.across * room.down)
    return { marks: [{ ...place, text: `×${count}`, radius: 13.5, role: first.role }], written: "count" };
  const across = Math.min(room.across, Math.max(Math.ceil(Math.sqrt(count)), Math.ceil(count / room.down)));
  const rows = Math.ceil(count / across);
  const marks = runs.map((run, index) => {
    const row = Math.floor(index / across);
    const inRow = Math.min(across, count - row * across);
    return {
      x: place.x + ((index % across) - (inRow - 1) / 2) * room.side,
      y: place.y + (row - (rows - 1) / 2) * room.side,
      text: String(run.run),
      radius: room.side / 2 - 1,
      role: run.role,
    };
  });
  return { marks, written: "numbers" };
}

/** The least distance between two different places, or the whole room where there is only one. */
function gap(places: readonly number[], room: number): number {
  const sorted = [...new Set(places.map((place) => Math.round(place * 100) / 100))].sort((a, b) => a - b);
  return sorted.slice(1).reduce((least, place, index) => Math.min(least, place - sorted[index]), room * 0.9);
}
