/** A place on the drawing, in its units. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** One mark that stands for `count` readings. */
export interface Mark extends Place {
  readonly count: number;
}

/** Up to this many readings each get a mark of their own. */
export const mostMarks = 1000;

/**
 * One mark a reading as long as there is room; above `mostMarks`, one mark for each cell of a grid that holds any, at
 * the mean place of its readings and with their count, so that no region with a reading is left empty. Cells start at
 * `cell` units and grow until the marks are few enough.
 */
export function marksFor(
  places: readonly Place[],
  options: { most?: number; cell?: number } = {},
): readonly Mark[] {
  const { most = mostMarks, cell = 3 } = options;
  if (places.length <= most) return places.map((place) => ({ x: place.x, y: place.y, count: 1 }));
  for (let side = cell; ; side *= 1.25) {
    const marks = inCells(places, side);
    if (marks.length <= most || side > 640) return marks;
  }
}

function inCells(places: readonly Place[], side: number): readonly Mark[] {
  const cells = new Map<string, { x: number; y: number; count: number }>();
  for (const { x, y } of places) {
    const key = `${Math.floor(x / side)},${Math.floor(y / side)}`;
    const held = cells.get(key);
    if (held === undefined) cells.set(key, { x, y, count: 1 });
    else {
      held.x += x;
      held.y += y;
      held.count += 1;
    }
  }
  return [...cells.values()].map(({ x, y, count }) => ({ x: x / count, y: y / count, count }));
}

/** How thinning is owned up to in a description; empty where every reading has its mark. */
export function thinningText(marks: readonly Mark[], readings: number, what: string): string {
  if (marks.length === readings) return "";
  const most = marks.reduce((largest, mark) => Math.max(largest, mark.count), 1);
  return `${readings} ${what} are drawn as ${marks.length} marks at the mean place of their neighbours; a larger mark stands for more of them, up to ${most}.`;
}
