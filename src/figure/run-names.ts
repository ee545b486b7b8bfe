import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import { overlap, type Box } from "./label-room.ts";
import type { Letters } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { textWidth } from "./text-width.ts";
import type { Place } from "./thin.ts";

/** Past a handful, names would only hide the picture; the table has them all. */
const mostNames = 8;
/** Half the height of a line of small lettering. */
const half = 6;
const away = 9;

export interface RunNames {
  readonly marks: readonly Plot.Markish[];
  /** "and 12 more" in the corner below to the right; none where all are named. */
  readonly letters: readonly Letters[];
  /** Those that are named, in the order in which they were given. */
  readonly named: readonly number[];
}

/**
 * Numbers beside the marks of runs that stand apart, each where it covers no other name and as few marks as can be. `runs` come with the most telling first: where
 * there is no room for all, or there are more than eight, the rest are counted in the corner. Places in the drawing's units.
 */
export function runNames(
  runs: readonly (Place & { readonly run: number })[],
  on: Framed,
  { marks }: { readonly marks: readonly Place[] },
): RunNames {
  const { left, right, top, bottom } = on.frame;
  const dots = marks.map(({ x, y }): Box => ({ left: x - 4, right: x + 4, top: y - 4, bottom: y + 4 }));
  const taken: Box[] = [];
  const placed: { readonly run: number; readonly box: Box }[] = [];
  for (const { x, y, run } of runs.slice(0, mostNames)) {
    const box = spotsAround({ x, y }, textWidth(`run ${run}`, lettering.small))
      .filter((one) => one.left >= left && one.right <= right && one.top >= top && one.bottom <= bottom)
      .filter((one) => taken.every((other) => overlap(one, other) === 0))
      .map((one) => ({ one, covered: dots.reduce((sum, dot) => sum + overlap(one, dot), 0) }))
      // The first of equals stays: beside the mark, to the right.
      .reduce<{ readonly one: Box; readonly covered: number } | null>(
        (best, each) => (best === null || each.covered < best.covered - 1e-9 ? each : best),
        null,
      );
    if (box === null) continue;
    taken.push(box.one);
    placed.push({ run, box: box.one });
  }
  const more = runs.length - placed.length;
  return {
    marks: placed.map(({ run, box }) =>
      Plot.text([{ x: on.x.back(box.left), y: on.y.back((box.top + box.bottom) / 2) }], {
        x: "x",
        y: "y",
        textAnchor: "start",
        text: () => `run ${run}`,
        fontSize: lettering.small,
        fill: palette.caution,
        stroke: palette.paper,
        strokeWidth: 3.5,
        className: "part-run-names",
      }),
    ),
    letters:
      more === 0 || placed.length === 0
        ? []
        : [
            {
              x: right - 8,
              y: bottom - 8,
              text: `and ${more} more`,
              anchor: "end",
              colour: palette.caution,
            },
          ],
    named: placed.map(({ run }) => run),
  };
}

/** Right and left of the mark, then above and below on either side. */
function spotsAround({ x, y }: Place, width: number): readonly Box[] {
  const sides = [x + away, x - away - width];
  const levels = [0, -10, 10, -20, 20];
  return [
    ...levels.flatMap((shift) => sides.map((start) => boxAt(start, y + shift, width))),
    ...[-15, 15].map((shift) => boxAt(x - width / 2, y + shift, width)),
  ];
}

function boxAt(start: number, middle: number, width: number): Box {
  return { left: start, right: start + width, top: middle - half, bottom: middle + half };
}

/** "run 3, run 7 and 12 more", for a text alternative. */
export function runList(runs: readonly number[]): string {
  const named = runs.slice(0, mostNames).map((run) => `run ${run}`);
  const more = runs.length - named.length;
  return more === 0 ? named.join(", ") : `${named.join(", ")} and ${more} more`;
}
