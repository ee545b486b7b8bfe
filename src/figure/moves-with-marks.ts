import * as Plot from "@observablehq/plot";
import type { MappedTerm } from "../layout/index.ts";
import type { Letters } from "./letters.ts";
import { lettering, palette } from "./palette.ts";
import { shortened, textWidth } from "./text-width.ts";

/** Two terms that move together by less than this are not worth a word: a twentieth of the variance. */
export const noticed = 0.22;

/** One filled cell. */
export interface MapCell {
  readonly column: number;
  readonly correlation: number;
  /** Whether a term that is left out would be read into a factor's effect. */
  readonly hides: boolean;
}

export interface MapRow {
  readonly term: MappedTerm;
  /** From 1 for terms of the model; null for those left out. */
  readonly number: number | null;
  readonly cells: readonly MapCell[];
}

const side = { row: 19, left: 16, right: 22, top: 20, gap: 30 };
/** Cells are no wider than this, so that a small map does not look like a bar chart. */
const widestCell = 64;

interface Cell {
  readonly x1: number;
  readonly x2: number;
  readonly y1: number;
  readonly y2: number;
}

interface Bar extends Cell {
  readonly colour: string;
  readonly fill: string;
}

/** The drawing of a map: the stair of the model's terms, then those left out. */
export function mapPlot(
  rows: readonly MapRow[],
  asked: number,
): {
  readonly height: number;
  readonly drawings: readonly Plot.PlotOptions[];
  readonly letters: readonly Letters[];
} {
  const hasOmitted = rows.length > asked;
  const numberRoom = textWidth(String(asked), lettering.small) + 12;
  const names = rows.map(({ term }) => shortened(term.label, 210, lettering.small));
  const nameRoom = Math.max(...names.map((name) => textWidth(name, lettering.small)));
  const from = side.left + numberRoom + nameRoom + 12;
  const cell = Math.min(widestCell, (640 - side.right - from) / asked);
  const topOf = (row: number): number => side.top + row * side.row + (row >= asked ? side.gap : 0);
  const height = topOf(rows.length - 1) + side.row + 16;
  const grid = rows.flatMap((row, index) => outlines(row, { index, asked, from, cell, top: topOf(index) }));
  const fills = rows.flatMap((row, index) => filled(row, { from, cell, top: topOf(index) }));
  const letters: Letters[] = rows.flatMap((row, index): Letters[] => {
    const y = topOf(index) + side.row / 2 + 4;
    const own: Letters[] = [{ x: side.left + numberRoom, y, text: names[index] ?? "", anchor: "start" }];
    if (row.number === null) return own;
    const number = { text: String(row.number), anchor: "middle" as const, colour: palette.quiet };
    return [
      ...own,
      { ...number, x: side.left + numberRoom - 12, y, anchor: "end" },
      { ...number, x: from + (row.number - 0.5) * cell, y },
    ];
  });
  if (hasOmitted) {
    const y = topOf(asked) - 7;
    letters.push({ x: side.left, y, text: "left out", anchor: "start", colour: palette.quiet });
    for (let column = 0; column < asked; column += 1)
      letters.push({
        x: from + (column + 0.5) * cell,
        y,
        text: String(column + 1),
        anchor: "middle",
        colour: palette.quiet,
      });
  }
  const rect = { x1: "x1", x2: "x2", y1: "y1", y2: "y2" } as const;
  return {
    height,
    letters,
    drawings: [
      {
        width: 640,
        height,
        margin: 0,
        x: { type: "linear", domain: [0, 640], range: [0, 640], axis: null },
        y: { type: "linear", domain: [0, height], range: [0, height], axis: null },
        marks: [
          Plot.rect(grid, {
            ...rect,
            fill: "none",
            stroke: palette.rule,
            strokeWidth: 0.7,
            className: "part-cells",
          }),
          Plot.rect(fills, {
            ...rect,
            fill: "fill",
            stroke: "colour",
            strokeWidth: 1.2,
            className: "part-filled",
          }),
        ],
      },
    ],
  };
}

interface RowPlace {
  readonly from: number;
  readonly cell: number;
  readonly top: number;
}

function outlines(
  row: MapRow,
  place: RowPlace & { readonly index: number; readonly asked: number },
): readonly Cell[] {
  const columns = row.number === null ? place.asked : row.number - 1;
  return Array.from({ length: columns }, (_, column) => ({
    x1: place.from + column * place.cell,
    x2: place.from + (column + 1) * place.cell,
    y1: place.top,
    y2: place.top + side.row,
  }));
}

/** A bar from the left edge of its cell, as long as the two terms move together; hollow where one falls as the other rises. */
function filled(row: MapRow, { from, cell, top }: RowPlace): readonly Bar[] {
  return row.cells.map(({ column, correlation, hides }) => {
    const x1 = from + column * cell + 1.5;
    const colour = hides && Math.abs(correlation) >= noticed ? palette.caution : palette.accent;
    return {
      x1,
      x2: x1 + Math.max(1, (cell - 3) * Math.abs(correlation)),
      y1: top + 4,
      y2: top + side.row - 4,
      colour,
      fill: correlation < 0 ? palette.paper : colour,
    };
  });
}
