import * as Plot from "@observablehq/plot";
import { keyRows, keyRowHeight, type KeyEntry } from "./key.ts";
import { element, lettered, type Letters } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { escaped, serialised } from "./serialise.ts";
import { textWidth, wrapped } from "./text-width.ts";
import type { Figure, FigureTable } from "./figure.ts";

/** What goes on a sheet; places and sizes in units of the 640 wide drawing. */
export interface Sheet {
  readonly kind: string;
  readonly title: string;
  /** Stands at the right of the title: what was counted, at what confidence. */
  readonly note: string;
  readonly description: string;
  readonly table: FigureTable;
  /** Height of the part above the title strip. */
  readonly height: number;
  readonly drawings: readonly Plot.PlotOptions[];
  readonly letters: readonly Letters[];
  /** Signs that have no label of their own beside them. */
  readonly key?: readonly KeyEntry[];
}

const width = 640;
const inset = 16;

/**
 * The finished figure: the drawing in a thin ruled frame with centring marks, as on a drawing sheet, and a title strip at
 * the foot. The SVG is complete in itself: its text alternative is inside, its ids come from its own content (the same
 * input gives the same text), it refers to nothing outside and it scales to the width it is given.
 */
export function sheet(document: Document, content: Sheet): Figure {
  const { kind, title, description, table } = content;
  const foot = titleStrip(document, content);
  const height = content.height + foot.height;
  const body = [
    element(document, "rect", { x: 0, y: 0, width, height, fill: palette.paper }),
    ...content.drawings.map((options) => drawn(document, options)),
    ...content.letters.map((each) => lettered(document, each)),
    ...foot.elements,
    ...ruledFrame(document, height),
  ];
  const inside = body.map(serialised).join("");
  const id = `${kind}-${fingerprint([title, description, inside])}`;
  const head = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${Math.round(height)}" width="100%" role="img"`,
    ` aria-labelledby="${id}-title ${id}-desc" data-figure="${escaped(kind)}" font-family="${lettering.family}"`,
    ` font-size="${lettering.small}" fill="${palette.ink}">`,
    `<title id="${id}-title">${escaped(title)}</title><desc id="${id}-desc">${escaped(description)}</desc>`,
  ].join("");
  return { kind, svg: `${head}${inside}</svg>`, title, description, table };
}

/** What Plot draws, without its style sheet and with our lettering. */
function drawn(document: Document, options: Plot.PlotOptions): Element {
  const plot = Plot.plot({ ...options, document });
  const group = element(document, "g", {
    "font-size": lettering.small,
    "text-anchor": "middle",
    fill: palette.ink,
  });
  for (const child of [...plot.childNodes]) group.append(child);
  return group;
}

function ruledFrame(document: Document, height: number): Element[] {
  const half = { x: width / 2, y: height / 2 };
  const centring = `M0.5,${half.y}h6M${width - 0.5},${half.y}h-6M${half.x},0.5v6M${half.x},${height - 0.5}v-6`;
  return [
    element(document, "rect", {
      x: 0.5,
      y: 0.5,
      width: width - 1,
      height: height - 1,
      fill: "none",
      stroke: palette.ink,
      "stroke-width": 0.8,
    }),
    element(document, "path", { d: centring, stroke: palette.ink, "stroke-width": 1.4, fill: "none" }),
  ];
}

function titleStrip(
  document: Document,
  content: Sheet,
): { readonly height: number; readonly elements: readonly Element[] } {
  const { title, note, height: top, key = [] } = content;
  const noteWidth = noteRoom(note);
  const titleWidth = width - 2 * inset - (note === "" ? 0 : noteWidth + 2 * inset);
  const titleLines = wrapped(title, titleWidth, lettering.usual, { most: 3, weight: "bold" });
  const noteLines = wrapped(note, noteWidth + 1, lettering.small, { most: 3 });
  const lines = Math.max(titleLines.length, noteLines.length, 1);
  const titleHeight = 14 + lines * 16;
  const rows = keyRows(key, width - 2 * inset);
  const keyHeight = rows.length === 0 ? 0 : rows.length * keyRowHeight + 8;
  const elements: Element[] = [rule(document, `M0.5,${top + keyHeight}H${width - 0.5}`)];
  rows.forEach((row, index) => {
    for (const entry of row)
      elements.push(...entry.draw(document, inset + entry.left, top + 4 + (index + 0.5) * keyRowHeight));
  });
  const base = top + keyHeight + 20;
  const middle = (count: number): number => base + ((lines - count) * 16) / 2;
  titleLines.forEach((text, index) =>
    elements.push(
      lettered(document, {
        x: inset,
        y: middle(titleLines.length) + index * 16,
        text,
        anchor: "start",
        size: lettering.usual,
        weight: "bold",
      }),
    ),
  );
  if (note !== "") {
    const divide = width - inset - noteWidth - inset;
    elements.push(rule(document, `M${divide},${top + keyHeight}V${top + keyHeight + titleHeight}`));
    noteLines.forEach((text, index) =>
      elements.push(
        lettered(document, {
          x: divide + inset,
          y: middle(noteLines.length) + index * 16,
          text,
          anchor: "start",
        }),
      ),
    );
  }
  return { height: keyHeight + titleHeight, elements };
}

/** As wide as the note, or where that is too wide, wide enough for lines of like length. */
function noteRoom(note: string): number {
  const whole = textWidth(note, lettering.small);
  const lines = Math.ceil(whole / 300);
  return lines <= 1 ? whole : Math.min(300, whole / lines + 30);
}

function rule(document: Document, d: string): Element {
  return element(document, "path", { d, stroke: palette.ink, "stroke-width": 0.8, fill: "none" });
}

/** 64 bits of FNV-1a in two halves, in hexadecimal: an id that only the content decides. */
function fingerprint(parts: readonly string[]): string {
  let one = 0x811c9dc5;
  let two = 0x01000193;
  for (const character of parts.join("\u0001")) {
    const code = character.codePointAt(0) ?? 0;
    one = Math.imul(one ^ code, 0x01000193) >>> 0;
    two = Math.imul(two ^ (code + 0x9e37), 0x01000193) >>> 0;
  }
  return one.toString(16).padStart(8, "0") + two.toString(16).padStart(8, "0");
}
