import * as Plot from "@observablehq/plot";
import type { Drift } from "./drift.ts";
import type { Framed } from "./frame.ts";
import type { NamedLine } from "./line-labels.ts";
import { lettering, palette } from "./palette.ts";
import type { FittedRow } from "../model/index.ts";

/** Every other block on a shade, each with its number at the top; nothing where there is one block. */
export function blockMarks(rows: readonly FittedRow[], on: Framed): readonly Plot.Markish[] {
  const spans: { block: number; from: number; to: number }[] = [];
  for (const row of rows) {
    const last = spans.at(-1);
    if (last?.block === row.block) last.to = row.order;
    else spans.push({ block: row.block, from: row.order, to: row.order });
  }
  if (spans.length < 2) return [];
  const { frame } = on;
  const borders = spans.slice(1).map((span, index) => (span.from + (spans[index]?.to ?? span.from)) / 2);
  const edges = [on.x.back(frame.left), ...borders, on.x.back(frame.right)];
  const boxes = spans.map((span, index) => ({ ...span, x1: edges[index], x2: edges[index + 1] }));
  const top = on.y.back(frame.top + 12);
  return [
    Plot.rect(
      boxes.filter((_, index) => index % 2 === 1),
      {
        x1: "x1",
        x2: "x2",
        y1: on.y.back(frame.bottom),
        y2: on.y.back(frame.top),
        fill: palette.ink,
        fillOpacity: 0.05,
        className: "part-blocks",
      },
    ),
    Plot.ruleX(borders, {
      stroke: palette.ink,
      strokeWidth: 1,
      strokeDasharray: "2 2",
      className: "part-block-borders",
    }),
    Plot.text(boxes, {
      x: (box: { x1: number; x2: number }) => (box.x1 + box.x2) / 2,
      y: () => top,
      text: (box: { block: number }) => (boxes.length > 12 ? String(box.block) : `block ${box.block}`),
      fill: palette.quiet,
      fontSize: lettering.small,
      className: "part-block-names",
    }),
  ];
}

/** The drift line in shown units. */
export interface ShownDrift {
  readonly order: number;
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

export function driftMarks(
  line: readonly ShownDrift[],
  domain: readonly [number, number],
): readonly Plot.Markish[] {
  if (line.length === 0) return [];
  const held = (value: number): number => Math.min(Math.max(value, domain[0]), domain[1]);
  const band = line.map((point) => ({ order: point.order, low: held(point.low), high: held(point.high) }));
  const inside = line.filter(({ estimate }) => estimate >= domain[0] && estimate <= domain[1]);
  return [
    Plot.areaY(band, {
      x: "order",
      y1: "low",
      y2: "high",
      fill: palette.accent,
      fillOpacity: 0.13,
      className: "part-drift-band",
    }),
    Plot.line(inside, {
      x: "order",
      y: "estimate",
      stroke: palette.accent,
      strokeWidth: 2,
      strokeDasharray: "8 4",
      className: "part-drift",
    }),
  ];
}

/** What is written beside the drift line and the joined anchor runs. */
export function orderNames(
  parts: {
    readonly line: readonly ShownDrift[];
    readonly joined: readonly { readonly x: number; readonly y: number }[];
    readonly drift: Drift | null;
  },
  on: Framed,
): readonly NamedLine[] {
  const { line, joined, drift } = parts;
  const names: NamedLine[] = [];
  if (drift !== null && !("reason" in drift)) {
    const points = line.map((point) => ({ x: on.x.at(point.order), y: on.y.at(point.estimate) }));
    names.push({ text: `drift ${drift.short}`, colour: palette.accent, points });
  }
  if (joined.length > 1) {
    names.push({
      text: "anchor runs",
      colour: palette.ink,
      points: joined.map(({ x, y }) => ({ x: on.x.at(x), y: on.y.at(y) })),
      likes: "start",
    });
  }
  return names;
}
