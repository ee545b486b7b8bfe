import { element, lettered } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { textWidth } from "./text-width.ts";

export type KeyShape = "circle" | "square" | "diamond" | "triangle";

/** How a sign looks that is explained in the key. */
export type KeySign =
  | {
      readonly sign: "dot";
      readonly fill: string;
      readonly stroke: string;
      readonly radius: number;
      readonly shape?: KeyShape;
    }
  | { readonly sign: "line"; readonly colour: string; readonly dash: string; readonly width?: number }
  | { readonly sign: "band"; readonly colour: string; readonly opacity: number };

/** A sign and what it stands for. */
export type KeyEntry = KeySign & { readonly text: string };

export const keyRowHeight = 19;

interface PlacedEntry {
  readonly left: number;
  readonly draw: (document: Document, x: number, y: number) => readonly Element[];
}

const signWidth = 22;
const gap = 20;

/** The entries in rows no wider than `width`. */
export function keyRows(entries: readonly KeyEntry[], width: number): readonly (readonly PlacedEntry[])[] {
  const rows: PlacedEntry[][] = [];
  let left = width + 1;
  for (const entry of entries) {
    const wide = signWidth + 6 + textWidth(entry.text, lettering.small);
    if (left + wide > width) {
      rows.push([]);
      left = 0;
    }
    rows.at(-1)?.push({ left, draw: (document, x, y) => drawEntry(document, entry, x, y) });
    left += wide + gap;
  }
  return rows;
}

function drawEntry(document: Document, entry: KeyEntry, x: number, y: number): readonly Element[] {
  return [
    drawSign(document, entry, x, y),
    lettered(document, {
      x: x + signWidth + 6,
      y: y + 4,
      text: entry.text,
      anchor: "start",
      colour: palette.ink,
    }),
  ];
}

function drawSign(document: Document, sign: KeySign, x: number, y: number): Element {
  const middle = x + signWidth / 2;
  switch (sign.sign) {
    case "dot":
      if (sign.shape !== undefined && sign.shape !== "circle")
        return element(document, "path", {
          d: cornered[sign.shape](middle, y, sign.radius),
          fill: sign.fill,
          stroke: sign.stroke,
          "stroke-width": 1.2,
        });
      return element(document, "circle", {
        cx: middle,
        cy: y,
        r: sign.radius,
        fill: sign.fill,
        stroke: sign.stroke,
        "stroke-width": 1.2,
      });
    case "line":
      return element(document, "path", {
        d: `M${x},${y}h${signWidth}`,
        stroke: sign.colour,
        "stroke-width": sign.width ?? 1.8,
        "stroke-dasharray": sign.dash,
        fill: "none",
      });
    case "band":
      return element(document, "rect", {
        x,
        y: y - 5.5,
        width: signWidth,
        height: 11,
        fill: sign.colour,
        "fill-opacity": sign.opacity,
        stroke: sign.colour,
        "stroke-opacity": 0.4,
        "stroke-width": 0.8,
      });
  }
}

const cornered: Readonly<Record<Exclude<KeyShape, "circle">, (x: number, y: number, r: number) => string>> = {
  square: (x, y, r) => `M${x - r},${y - r}h${2 * r}v${2 * r}h${-2 * r}Z`,
  diamond: (x, y, r) => `M${x},${y - r}l${r},${r}l${-r},${r}l${-r},${-r}Z`,
  triangle: (x, y, r) => `M${x},${y - r}l${r},${1.8 * r}h${-2 * r}Z`,
};
