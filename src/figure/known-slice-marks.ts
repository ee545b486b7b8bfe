import * as Plot from "@observablehq/plot";
import type { QuantityFactor, Run, Settings } from "../trial/index.ts";
import type { Framed } from "./frame.ts";
import type { KeyEntry } from "./key.ts";
import { palette } from "./palette.ts";
import { shownIn, type Display } from "./shown.ts";

/** Two quantities to draw over, and where the other factors are held. */
export interface Slice {
  readonly along: QuantityFactor;
  readonly up: QuantityFactor;
  readonly held: Settings;
}

/** So many cells along each side of the grid that bands are drawn through. */
export const cells = 48;
/** Each band further out lays one more of these over the ones before. */
const layer = 0.13;

/** Bands and the wanted line, on the drawing's own even scales, since the grid is even on them whatever the factors' scales are. */
export function bandDrawing(
  parts: {
    readonly slice: Slice;
    readonly widths: readonly number[];
    readonly borders: readonly number[];
    readonly wanted: number | null;
    readonly display: Display;
  },
  on: Framed,
): Plot.PlotOptions {
  const { slice, widths, borders, wanted, display } = parts;
  const { frame } = on;
  const [x, y] = [shownIn(slice.along.unit, display), shownIn(slice.up.unit, display)];
  const box = {
    width: cells,
    height: cells,
    x1: on.x.at(x.value(slice.along.low)),
    x2: on.x.at(x.value(slice.along.high)),
    y1: on.y.at(y.value(slice.up.low)),
    y2: on.y.at(y.value(slice.up.high)),
  };
  const contour = (threshold: number, look: Partial<Plot.ContourOptions>): Plot.Markish =>
    Plot.contour([...widths], { ...box, thresholds: [threshold], ...look });
  const band = {
    fill: palette.accent,
    fillOpacity: layer,
    stroke: palette.accent,
    strokeWidth: 0.7,
  } as const;
  const line = {
    fill: "none",
    stroke: palette.caution,
    strokeWidth: 2,
    strokeDasharray: "10 3 2 3",
  } as const;
  const isCrossed = wanted !== null && wanted > Math.min(...widths) && wanted < Math.max(...widths);
  return {
    ...on.options,
    x: { type: "linear", domain: [frame.left, frame.right], axis: null },
    y: { type: "linear", domain: [frame.bottom, frame.top], axis: null },
    marks: [
      ...borders.map((border) => contour(border, { ...band, className: "part-bands" })),
      Plot.rect([box], {
        x1: "x1",
        x2: "x2",
        y1: "y1",
        y2: "y2",
        fill: "none",
        stroke: palette.rule,
        strokeDasharray: "3 3",
        className: "part-region",
      }),
      ...(isCrossed ? [contour(wanted, { ...line, className: "part-wanted" })] : []),
    ],
  };
}

export function runMarks(slice: Slice, runs: readonly Run[], display: Display): Plot.Markish {
  const place = (factor: QuantityFactor) => {
    const { value } = shownIn(factor.unit, display);
    return (run: Run) => value(Number(run.settings[factor.name]));
  };
  return Plot.dot(runs, {
    x: place(slice.along),
    y: place(slice.up),
    r: 4,
    fill: palette.paper,
    stroke: palette.ink,
    strokeWidth: 1.3,
    className: "part-runs",
  });
}

/** What the bands stand for. */
export function sliceKey(
  borders: readonly number[],
  wanted: number | null,
  width: (value: number) => string,
): readonly KeyEntry[] {
  const band = (index: number, text: string): KeyEntry => ({
    sign: "band",
    colour: palette.accent,
    opacity: 1 - (1 - layer) ** index,
    text,
  });
  const [first] = borders;
  const bands =
    first === undefined
      ? []
      : [
          band(0, `within ${width(first)}`),
          ...borders.map((border, index) => {
            const next = borders[index + 1];
            return band(index + 1, next === undefined ? `beyond ${width(border)}` : `to ${width(next)}`);
          }),
        ];
  return [
    ...bands,
    ...(wanted === null
      ? []
      : [
          {
            sign: "line",
            colour: palette.caution,
            dash: "10 3 2 3",
            text: `wanted: ${width(wanted)}`,
          } as const,
        ]),
    { sign: "dot", fill: palette.paper, stroke: palette.ink, radius: 4, text: "run" },
  ];
}
