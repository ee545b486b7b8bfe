import * as Plot from "@observablehq/plot";
import type { EffectRow } from "./effect-rows.ts";
import type { Framed } from "./frame.ts";
import { ratioText, roundedText, toHalfWidth } from "./number-text.ts";
import { lettering, palette } from "./palette.ts";

/** Each effect as a dimension: its interval with ends, its estimate as a mark with its number. `none` is where nothing changes. */
export function rowMarks(rows: readonly EffectRow[], on: Framed, none: number): readonly Plot.Markish[] {
  const middle = (row: EffectRow): number => on.y.back(row.top + row.height / 2 + 4);
  const drawn = rows.flatMap((row) =>
    row.estimate === null ? [] : [{ ...row, y: middle(row), estimate: row.estimate }],
  );
  const barred = drawn.flatMap(({ low, high, ...row }) =>
    low === null || high === null ? [] : [{ ...row, low, high }],
  );
  const ends = barred.flatMap((row) =>
    [row.low, row.high].map((x) => ({
      x,
      y1: on.y.back(on.y.at(row.y) - 7),
      y2: on.y.back(on.y.at(row.y) + 7),
      clear: row.clear,
      alone: row.alone,
    })),
  );
  const between = rows.slice(1).map((row) => on.y.back(row.top));
  return [
    Plot.ruleY(between, { stroke: palette.hair, className: "part-row-lines" }),
    Plot.ruleX([none], { stroke: palette.ink, strokeWidth: 1.2, className: "part-no-change" }),
    Plot.link(barred, {
      x1: "low",
      x2: "high",
      y1: "y",
      y2: "y",
      stroke: colour,
      strokeWidth: 2.2,
      className: "part-intervals",
    }),
    Plot.link(ends, {
      x1: "x",
      x2: "x",
      y1: "y1",
      y2: "y2",
      stroke: colour,
      strokeWidth: 2.2,
      className: "part-interval-ends",
    }),
    Plot.dot(drawn, {
      x: "estimate",
      y: "y",
      r: 5.5,
      fill: (row: EffectRow) => (row.clear && row.alone ? palette.accent : palette.paper),
      stroke: (row: EffectRow) => (row.clear && row.alone ? palette.paper : colour(row)),
      strokeWidth: 2,
      className: "part-estimates",
    }),
    Plot.text(drawn, {
      x: "estimate",
      y: "y",
      dy: -17,
      text: (row: EffectRow) => valueText(row),
      fontSize: lettering.small,
      fontWeight: "bold",
      fill: colour,
      stroke: palette.paper,
      strokeWidth: 3.5,
      className: "part-values",
    }),
    Plot.text(
      rows.filter((row) => row.estimate === null).map((row) => ({ y: middle(row) })),
      {
        x: () => on.x.back((on.frame.left + on.frame.right) / 2),
        y: "y",
        text: () => "can’t be told from these runs",
        fontSize: lettering.small,
        fill: palette.caution,
        stroke: palette.paper,
        strokeWidth: 3.5,
        className: "part-untold",
      },
    ),
  ];
}

/** Blue: told apart and clear of no change. Amber: may be the effect of what moved along. Grey: not clear of no change. */
function colour(row: { readonly clear: boolean; readonly alone: boolean }): string {
  if (!row.alone) return palette.caution;
  return row.clear ? palette.accent : palette.quiet;
}

function valueText({ effect, estimate, low, high }: EffectRow): string {
  if (estimate === null) return "";
  if (effect.as === "ratio")
    return `×${low === null || high === null ? roundedText(estimate) : ratioText(estimate, low, high)}`;
  const text = toHalfWidth(estimate, low === null || high === null ? Number.NaN : (high - low) / 2);
  return estimate > 0 ? `+${text}` : text;
}
