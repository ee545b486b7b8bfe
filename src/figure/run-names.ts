import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import { lettering, palette } from "./palette.ts";
import type { Place } from "./thin.ts";

/** Numbers beside the marks of runs that stand apart, on the side with room. Places in the drawing's units. */
export function runNames(
  runs: readonly (Place & { readonly run: number })[],
  on: Framed,
): readonly Plot.Markish[] {
  return runs.map(({ x, y, run }) => {
    const right = x > on.frame.right - 70;
    return Plot.text([{ x: on.x.back(x), y: on.y.back(y) }], {
      x: "x",
      y: "y",
      dx: right ? -9 : 9,
      textAnchor: right ? "end" : "start",
      text: () => `run ${run}`,
      fontSize: lettering.small,
      fill: palette.caution,
      stroke: palette.paper,
      strokeWidth: 3.5,
      className: "part-run-names",
    });
  });
}
