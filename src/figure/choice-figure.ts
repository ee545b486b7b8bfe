import * as Plot from "@observablehq/plot";
import type { Candidate, GroupFigures, LayoutChoice } from "../layout/index.ts";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline, type Framed } from "./frame.ts";
import type { KeyEntry } from "./key.ts";
import type { Letters } from "./letters.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { wrapped } from "./text-width.ts";

export interface ChoiceOptions extends FigureOptions {
  /** Layouts that are drawn at most, the best first; the others are counted. Default 8. */
  readonly most?: number;
}

const groups = [
  { name: "mainEffects", text: "single factors", symbol: "circle", shape: "circle", colour: palette.accent },
  { name: "products", text: "pairs of factors", symbol: "diamond2", shape: "diamond", colour: palette.ink },
  { name: "squares", text: "curvature", symbol: "triangle2", shape: "triangle", colour: palette.quiet },
] as const;

interface Row {
  readonly candidate: Candidate;
  readonly lines: readonly string[];
  readonly y: number;
  readonly points: readonly { readonly group: (typeof groups)[number]; readonly width: number }[];
}

const rowHeight = 38;
const textRoom = 232;

/**
 * Layouts that fit a question side by side: for each the half-width to which it would know single factors, pairs of factors and
 * curvature, on one scale, with its passes. Use it to see what more passes or another layout would buy. The recommended one is lettered
 * bold; effects that a layout can't tell have no mark and are named in the text. One row a layout in the table. Refuses a choice
 * without a layout.
 * Example: `choiceFigure(chooseLayout({ factors, stake: "which-matter", passes: 16 }))`.
 */
export function choiceFigure(choice: LayoutChoice, options: ChoiceOptions = {}): Figure {
  const { most = 8 } = options;
  const { document, display } = settled(options);
  const drawn = choice.candidates.slice(0, most);
  if (drawn.length === 0) {
    throw figureError({
      given: "a choice without a layout",
      expected: "at least one layout that fits the passes",
      mend: "Ask for less, or take more passes.",
    });
  }
  const inUnit = drawn.every(({ figures }) => groups.every(({ name }) => isInUnit(figures[name])));
  const shown = shownIn(inUnit && choice.unit !== "" ? choice.unit : "σ", display);
  const widthOf = (group: GroupFigures): number | null => {
    const width = inUnit ? group.halfWidth : group.halfWidthInSigma;
    return width === null || group.told < group.of ? null : shown.value(width);
  };
  const rows = drawn.map((candidate, index): Row => ({
    candidate,
    lines: wrapped(`${index + 1}  ${candidate.title}`, textRoom, lettering.small, { most: 2 }),
    y: drawn.length - 1 - index,
    points: groups.flatMap((group) => {
      const found = candidate.figures[group.name];
      const width = found.of === 0 ? null : widthOf(found);
      return width === null ? [] : [{ group, width }];
    }),
  }));
  const height = 36 + rows.length * rowHeight + 50;
  const widths = rows.flatMap(({ points }) => points.map((point) => point.width));
  // A layout that hardly tells its pairs would press all the others into one corner.
  const isRatio = Math.max(...widths) > 5 * Math.min(...widths);
  const x = quantityAxis({
    name: "half-width of an effect from low to high",
    unit: shown.unit,
    values:
      isRatio || widths.length === 0 ? [...widths, ...(widths.length === 0 ? [1] : [])] : [0, ...widths],
    log: isRatio ? "log" : "linear",
    count: 5,
    margin: 0.08,
  });
  const flat = {
    ...quantityAxis({ name: "", unit: "", values: [0, 1] }),
    domain: [-0.5, rows.length - 0.5] as const,
  };
  const on = framed({ ...x, domain: [isRatio ? x.domain[0] : 0, x.domain[1]] }, flat, {
    height,
    left: 268,
    extraRight: 66,
    upright: "bare",
  });
  const title = options.title ?? `Layouts for ${choice.passes} passes`;
  const width = (value: number): string => `± ${withUnit(roundedText(value, 2), shown.unit)}`;
  return sheet(document, {
    kind: "layouts-side-by-side",
    title,
    note: choice.candidates.length > most ? `${choice.candidates.length - most} more not drawn` : "",
    description: [`${title}.`, ...rows.map((row) => rowText(row, choice, width))].join(" "),
    table: {
      columns: ["layout", "passes", ...groups.map(({ text }) => heading(text, shown.unit))],
      rows: rows.map(({ candidate, points }) => [
        candidate.title,
        candidate.runs,
        ...groups.map((group) => points.find((point) => point.group === group)?.width ?? null),
      ]),
    },
    height,
    drawings: [
      { ...on.options, marks: [...on.under, ...rows.flatMap((row) => rowMarks(row, on)), outline()] },
    ],
    letters: [...on.letters, ...rows.flatMap((row) => rowLetters(row, choice, on))],
    key: keyOf(rows),
  });
}

function isInUnit(group: GroupFigures): boolean {
  return group.halfWidthInSigma === null || group.halfWidth !== null;
}

function rowText({ candidate, points }: Row, choice: LayoutChoice, width: (value: number) => string): string {
  const told = points.map((point) => `${point.group.text} to within ${width(point.width)}`);
  const not = groups.filter(
    (group) => candidate.figures[group.name].of > 0 && !points.some((point) => point.group === group),
  );
  const recommended = candidate.id === choice.recommended?.id ? " (recommended)" : "";
  return `${candidate.title}${recommended}, ${candidate.runs} passes: ${[
    ...told,
    ...not.map(({ text }) => `${text} not told`),
  ].join(", ")}.`;
}

function rowMarks({ points, y }: Row, on: Framed): readonly Plot.Markish[] {
  const widths = points.map(({ width }) => width);
  const from = on.x.back(on.frame.left);
  const line = { y, x1: from, x2: Math.max(from, ...widths) };
  // Marks that would cover each other stand one below the other.
  const apart = points.length > 1 ? 0.2 : 0;
  return [
    Plot.link([line], {
      x1: "x1",
      x2: "x2",
      y1: "y",
      y2: "y",
      stroke: palette.rule,
      strokeWidth: 1,
      className: "part-rows",
    }),
    ...points.map(({ group, width }, index) =>
      Plot.dot([{ width, y: y + apart * ((points.length - 1) / 2 - index) }], {
        x: "width",
        y: "y",
        r: 5,
        symbol: group.symbol,
        fill: group.colour,
        stroke: palette.paper,
        className: "part-widths",
      }),
    ),
  ];
}

function rowLetters({ candidate, lines, y }: Row, choice: LayoutChoice, on: Framed): readonly Letters[] {
  const middle = on.y.at(y);
  const weight = candidate.id === choice.recommended?.id ? ("bold" as const) : ("normal" as const);
  const first = middle + 4 - ((lines.length - 1) * 14) / 2;
  return [
    ...lines.map((text, index) => ({
      x: index === 0 ? 16 : 30,
      y: first + index * 14,
      text,
      anchor: "start" as const,
      weight,
    })),
    {
      x: on.frame.right + 8,
      y: middle + 4,
      text: `${candidate.runs} passes`,
      anchor: "start",
      colour: palette.quiet,
    },
  ];
}

function keyOf(rows: readonly Row[]): readonly KeyEntry[] {
  return groups
    .filter((group) => rows.some(({ points }) => points.some((point) => point.group === group)))
    .map(({ text, shape, colour }) => ({
      sign: "dot",
      shape,
      fill: colour,
      stroke: palette.paper,
      radius: 4.5,
      text,
    }));
}
