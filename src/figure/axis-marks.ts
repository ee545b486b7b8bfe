import * as Plot from "@observablehq/plot";
import { fitting, type Axis, type Ruler } from "./axis.ts";
import type { Frame } from "./frame-box.ts";
import { lettering, palette } from "./palette.ts";
import { shortened } from "./text-width.ts";

/** Grid, ticks and numbers of the axis along a frame, of its second scale too. */
export function acrossMarks(x: Axis, ruler: Ruler, frame: Frame): Plot.Markish[] {
  const slot = (frame.right - frame.left) / Math.max(x.ticks.length, 1) - 8;
  const texts =
    x.categories.length > 0 ? x.texts.map((text) => shortened(text, slot, lettering.small)) : x.texts;
  const marks: Plot.Markish[] = x.categories.length > 0 ? [] : [grid("x", x.ticks)];
  marks.push(axisX("bottom", x.ticks, texts, ruler));
  if (x.second !== null) marks.push(axisX("top", x.second.ticks, x.second.texts, ruler));
  return marks;
}

function axisX(
  anchor: "bottom" | "top",
  ticks: readonly number[],
  texts: readonly string[],
  ruler: Ruler,
): Plot.Markish {
  const kept = new Set(fitting(ticks.map(ruler.at), texts, lettering.small));
  return Plot.axisX([...ticks], {
    ...tickLook,
    anchor,
    // As text and not as tickFormat: Plot drops texts of its own choice on a log scale.
    text: texts.map((text, index) => (kept.has(index) ? text : "")),
    className: "part-x-ticks",
  });
}

/** A category's levels are cut to what a margin can hold; the table has them whole. */
export function upTexts(y: Axis): readonly string[] {
  return y.categories.length > 0 ? y.texts.map((text) => shortened(text, 120, lettering.small)) : y.texts;
}

/** Grid, ticks and numbers of the axis up a frame, of its second scale too. */
export function upMarks(y: Axis): Plot.Markish[] {
  const marks: Plot.Markish[] = y.categories.length > 0 ? [] : [grid("y", y.ticks)];
  marks.push(axisY("left", y.ticks, upTexts(y)));
  if (y.second !== null) marks.push(axisY("right", y.second.ticks, y.second.texts));
  return marks;
}

function axisY(anchor: "left" | "right", ticks: readonly number[], texts: readonly string[]): Plot.Markish {
  return Plot.axisY([...ticks], { ...tickLook, anchor, text: [...texts], className: "part-y-ticks" });
}

function grid(along: "x" | "y", ticks: readonly number[]): Plot.Markish {
  const look = { stroke: palette.hair, strokeOpacity: 1, strokeWidth: 1, className: "part-grid" };
  return along === "x" ? Plot.gridX([...ticks], look) : Plot.gridY([...ticks], look);
}

const tickLook = {
  fontSize: lettering.small,
  tickSize: 5,
  tickPadding: 4,
  label: null,
  color: palette.ink,
  stroke: palette.rule,
} as const;
