import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import { palette } from "./palette.ts";

/**
 * A limit across the frame with short strokes on the side that is not allowed, as ground is hatched on a drawing.
 * `forbidden` is the side that breaks the limit; a target has none.
 */
export function limitMarks(
  limit: number,
  on: Framed,
  forbidden: "above" | "below" | "neither",
): readonly Plot.Markish[] {
  const { frame } = on;
  const marks: Plot.Markish[] = [
    Plot.ruleY([limit], {
      stroke: palette.caution,
      strokeWidth: 1.6,
      strokeDasharray: "10 3 2 3",
      className: "part-limit",
    }),
  ];
  if (forbidden === "neither") return marks;
  const y = on.y.at(limit);
  const rise = forbidden === "above" ? -6 : 6;
  const strokes: { x1: number; x2: number; y1: number; y2: number }[] = [];
  for (let x = frame.left + 4; x + 6 <= frame.right; x += 13) {
    strokes.push({ x1: on.x.back(x), x2: on.x.back(x + 6), y1: limit, y2: on.y.back(y + rise) });
  }
  marks.push(
    Plot.link(strokes, {
      x1: "x1",
      x2: "x2",
      y1: "y1",
      y2: "y2",
      stroke: palette.caution,
      strokeWidth: 0.9,
      className: "part-limit-hatch",
    }),
  );
  return marks;
}
