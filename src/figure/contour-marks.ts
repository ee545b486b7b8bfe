import * as Plot from "@observablehq/plot";
import type { Framed } from "./frame.ts";
import { formatNumber } from "../units/index.ts";
import { lettering, palette } from "./palette.ts";

/** So many places along each side of the grid that lines are drawn through. */
export const places = 64;

/** The corner places of the map on the drawing, and the values on its grid, row by row from below. */
export interface MapBox {
  readonly x1: number;
  readonly x2: number;
  readonly y1: number;
  readonly y2: number;
}

/** A drawing on the sheet's own even scales, over which grids are even whatever the factors' scales are. */
export function onSheet(on: Framed, marks: readonly Plot.Markish[]): Plot.PlotOptions {
  const { frame } = on;
  return {
    ...on.options,
    x: { type: "linear", domain: [frame.left, frame.right], axis: null },
    y: { type: "linear", domain: [frame.bottom, frame.top], axis: null },
    marks: [...marks],
  };
}

/** One line where the grid's values pass `threshold`; nothing where they don't. */
export function mapLine(
  values: readonly number[],
  threshold: number,
  box: MapBox,
  look: Partial<Plot.ContourOptions>,
): readonly Plot.Markish[] {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (!(low < threshold && threshold < high)) return [];
  const grid = { width: places, height: places, ...box };
  return [Plot.contour([...values], { ...grid, thresholds: [threshold], fill: "none", ...look })];
}

/** Short strokes on the forbidden ground, longer where it is surely forbidden. `room` at or above zero is left free. */
export function hatch(
  assured: readonly number[],
  hopeful: readonly number[],
  box: MapBox,
): readonly Plot.Markish[] {
  const strokes: { x1: number; x2: number; y1: number; y2: number }[] = [];
  const apart = 12;
  const [left, right] = [Math.min(box.x1, box.x2), Math.max(box.x1, box.x2)];
  const [top, bottom] = [Math.min(box.y1, box.y2), Math.max(box.y1, box.y2)];
  for (let y = top + apart / 2; y < bottom; y += apart) {
    const shift = (Math.round((y - top) / apart) % 2) * (apart / 2);
    for (let x = left + apart / 2 + shift; x < right - 2; x += apart) {
      const column = Math.min(places - 1, Math.floor(((x - box.x1) / (box.x2 - box.x1)) * places));
      const row = Math.min(places - 1, Math.floor(((y - box.y1) / (box.y2 - box.y1)) * places));
      const at = row * places + column;
      if ((assured[at] ?? 0) >= 0) continue;
      const reach = (hopeful[at] ?? 0) < 0 ? 3.6 : 1.7;
      strokes.push({ x1: x - reach, x2: x + reach, y1: y + reach, y2: y - reach });
    }
  }
  if (strokes.length === 0) return [];
  return [
    Plot.link(strokes, {
      x1: "x1",
      x2: "x2",
      y1: "y1",
      y2: "y2",
      stroke: palette.caution,
      strokeWidth: 0.9,
      className: "part-forbidden",
    }),
  ];
}

/** Each level's name once, where its line passes nearest to a diagonal from the upper left. */
export function levelNames(
  values: readonly number[],
  levels: readonly number[],
  box: MapBox,
): readonly Plot.Markish[] {
  const named = levels.flatMap((level) => {
    const inner = Array.from({ length: places - 12 }, (_, k) => k + 6);
    const passing = inner.find((k) => {
      const [a, b] = [k, k + 1].map((i) => (values[(places - 1 - i) * places + i] ?? 0) - level);
      return a <= 0 !== b <= 0;
    });
    const along =
      passing ??
      inner.find((k) => {
        const [a, b] = [k, k + 1].map((i) => (values[i * places + i] ?? 0) - level);
        return a <= 0 !== b <= 0;
      });
    if (along === undefined) return [];
    const row = passing === undefined ? along + 0.5 : places - 1 - along - 0.5;
    return [
      {
        x: box.x1 + ((along + 1) / places) * (box.x2 - box.x1),
        y: box.y1 + ((row + 0.5) / places) * (box.y2 - box.y1),
        text: formatNumber(level),
      },
    ];
  });
  return [
    Plot.text(named, {
      x: "x",
      y: "y",
      text: "text",
      fontSize: lettering.small,
      fill: palette.accent,
      stroke: palette.paper,
      strokeWidth: 4,
      className: "part-levels",
    }),
  ];
}
