import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import { bestPlace, boxesAlong, type Box, type Candidate } from "./label-room.ts";
import { lettering, palette } from "./palette.ts";
import { shortened, textWidth } from "./text-width.ts";
import type { Place } from "./thin.ts";

/** A line on the drawing that wants its name beside it. Points in the drawing's units, from left to right. */
export interface NamedLine {
  readonly text: string;
  readonly colour: string;
  readonly points: readonly Place[];
  /** Where along the line the name likes to stand. Default `end`. */
  readonly likes?: "start" | "middle" | "end";
  /** Default `above`. */
  readonly side?: "above" | "below";
}

const lineHeight = 14;

/**
 * Names written beside their lines, where they cover the least of marks, of each other and of other lines. A name never
 * crosses its own line: it stands above the highest or below the lowest point of the stretch it spans.
 */
export function lineLabels(
  lines: readonly NamedLine[],
  on: Framed,
  marks: readonly Box[],
): readonly Plot.Markish[] {
  const { frame } = on;
  const room: Box = {
    left: frame.left + 3,
    right: frame.right - 3,
    top: frame.top + 2,
    bottom: frame.bottom - 2,
  };
  const taken: Box[] = [...marks, ...lines.flatMap((line) => boxesAlong(line.points, 2))];
  const labels: Plot.Markish[] = [];
  for (const line of lines) {
    const text = shortened(line.text, (frame.right - frame.left) * 0.7, lettering.small);
    if (text === "" || line.points.length === 0) continue;
    const best = bestPlace(candidates(line, textWidth(text, lettering.small), room), taken, room);
    if (best === undefined) continue;
    taken.push(best.box);
    labels.push(
      Plot.text([{ x: on.x.back(best.value.x), y: on.y.back(best.value.y) }], {
        x: "x",
        y: "y",
        text: () => text,
        fill: line.colour,
        stroke: palette.paper,
        strokeWidth: 3.5,
        fontSize: lettering.small,
        className: "part-labels",
      }),
    );
  }
  return labels;
}

function candidates(line: NamedLine, width: number, room: Box): readonly Candidate<Place>[] {
  const found: Candidate<Place>[] = [];
  const { likes = "end", side: liked = "above" } = line;
  const wanted = { start: 0, middle: 0.5, end: 1 }[likes];
  for (let step = 0; step <= 24; step++) {
    const share = step / 24;
    const middle = clamp(at(line.points, share).x, room.left + width / 2, room.right - width / 2);
    const spanned = heightsBetween(line.points, middle - width / 2 - 4, middle + width / 2 + 4);
    for (const side of ["above", "below"] as const) {
      const y =
        side === "above"
          ? Math.min(...spanned) - lineHeight / 2 - 4
          : Math.max(...spanned) + lineHeight / 2 + 4;
      found.push({
        box: {
          left: middle - width / 2,
          right: middle + width / 2,
          top: y - lineHeight / 2,
          bottom: y + lineHeight / 2,
        },
        cost: Math.abs(share - wanted) * 60 + (side === liked ? 0 : 8),
        value: { x: middle, y },
      });
    }
  }
  return found;
}

function at(points: readonly Place[], share: number): Place {
  const index = Math.round(share * (points.length - 1));
  return points[index];
}

/** The line's heights over a stretch, its ends carried on level. */
function heightsBetween(points: readonly Place[], left: number, right: number): readonly number[] {
  const inside = points.filter((point) => point.x >= left && point.x <= right).map((point) => point.y);
  const before = points.filter((point) => point.x < left).at(-1) ?? points[0];
  const after = points.find((point) => point.x > right) ?? points.at(-1);
  return [...inside, before?.y ?? 0, after?.y ?? 0];
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), Math.max(low, high));
}
