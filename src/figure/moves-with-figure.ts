import type { MappedTerm, TermCorrelations } from "../layout/index.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import type { KeyEntry } from "./key.ts";
import { mapPlot, noticed, type MapCell, type MapRow } from "./moves-with-marks.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { sheet } from "./sheet.ts";

export interface MovesWithOptions extends FigureOptions {
  /** Rows that are drawn at most; the table has all of them. Default 40. */
  readonly mostRows?: number;
}

/** Columns that still leave a cell wide enough for a bar to be told from another. */
const mostAsked = 28;

/**
 * What a layout could mistake for what: a stair of cells, one row a term, one column each term of the model, each cell filled from the
 * left as far as the two move together. Below it the terms that are left out of the model, where they move with one that is in it;
 * amber where that one is a factor by itself, since its effect would be read wrong. Use it before cutting, to see what hides behind what.
 * One row a pair in the table. Refuses a model of more than 28 terms.
 * Example: `movesWithFigure(termCorrelations(runs, factors, { model: "main", omitted: [times("feed", "speed")] }))`.
 */
export function movesWithFigure(found: TermCorrelations, options: MovesWithOptions = {}): Figure {
  const { mostRows = 40 } = options;
  const { document } = settled(options);
  const asked = found.terms.filter(({ place }) => place === "asked");
  check(asked, found);
  const rows = found.terms.map((term, index): MapRow => ({
    term,
    number: term.place === "asked" ? index + 1 : null,
    cells: asked.flatMap((other, column): MapCell[] => {
      const correlation = found.correlations[index]?.[column] ?? null;
      if (term.place === "asked" && column >= index) return [];
      return correlation === null || Math.abs(correlation) < 0.005
        ? []
        : [{ column, correlation, hides: term.place === "omitted" && other.order === 1 }];
    }),
  }));
  const clear = rows.filter(({ term, cells }) => term.place === "omitted" && cells.length === 0);
  const moving = rows.filter(({ term, cells }) => term.place === "omitted" && cells.length > 0);
  const room = Math.max(0, mostRows - asked.length);
  const drawn = [...moving].sort((a, b) => strongest(b) - strongest(a)).slice(0, room);
  const omitted = moving.filter((row) => drawn.includes(row));
  const left = moving.length - omitted.length;
  const title = options.title ?? "What moves with what";
  const plot = mapPlot([...rows.slice(0, asked.length), ...omitted], asked.length);
  return sheet(document, {
    kind: "moves-with",
    title,
    note: [
      clear.length > 0
        ? `${clear.length} left-out ${clear.length === 1 ? "term moves" : "terms move"} with none`
        : "",
      left > 0 ? `${left} weaker ones not drawn` : "",
    ]
      .filter((each) => each !== "")
      .join("; "),
    description: describe(title, rows, asked),
    table: {
      columns: ["term", "in the model", ...asked.map(({ label }) => label)],
      rows: rows.map(({ term }, index) => [
        term.label,
        term.place === "asked" ? "yes" : "no",
        ...asked.map((_, column) => rounded(found.correlations[index]?.[column] ?? null)),
      ]),
    },
    height: plot.height,
    drawings: plot.drawings,
    letters: plot.letters,
    key: keyOf(rows),
  });
}

function check(asked: readonly MappedTerm[], found: TermCorrelations): void {
  if (asked.length > 0 && asked.length <= mostAsked) return;
  throw figureError({
    given: `a model of ${asked.length} terms${asked.length === 0 ? "" : ` and ${found.terms.length - asked.length} left out`}`,
    expected: `a model of 1 to ${mostAsked} terms`,
    mend:
      asked.length === 0
        ? "Ask for a model with a factor in it."
        : "Ask for each factor by itself, or read the table of the judgement.",
  });
}

function strongest({ cells }: MapRow): number {
  return Math.max(0, ...cells.map(({ correlation }) => Math.abs(correlation)));
}

function rounded(correlation: number | null): number | null {
  return correlation === null ? null : Math.round(correlation * 1000) / 1000;
}

const mostTold = 6;

function describe(title: string, rows: readonly MapRow[], asked: readonly MappedTerm[]): string {
  const pairs = rows
    .flatMap(({ term, cells }) => cells.map((cell) => ({ term, ...cell })))
    .filter(({ correlation }) => Math.abs(correlation) >= noticed)
    .sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation));
  const told = pairs.slice(0, mostTold).map(({ term, column, correlation }) => {
    const other = asked[column]?.label ?? "";
    return Math.abs(correlation) > 0.9995
      ? `${term.label} can't be told from ${other}`
      : `${term.label} moves with ${other} by ${correlation.toFixed(2).replace("-", "−")}`;
  });
  const more = pairs.length - told.length;
  return [
    `${title}: ${asked.length} ${asked.length === 1 ? "term" : "terms"} of the model, ${rows.length - asked.length} left out.`,
    pairs.length === 0
      ? "No term moves noticeably with another."
      : `${told.join("; ")}${more > 0 ? `; and ${more} weaker pairs` : ""}.`,
  ].join(" ");
}

function keyOf(rows: readonly MapRow[]): readonly KeyEntry[] {
  const cells = rows.flatMap((row) => row.cells.map((cell) => cell));
  const square = { sign: "dot", shape: "square", radius: 5 } as const;
  const full = (colour: string) => ({ ...square, fill: colour, stroke: colour });
  const key: KeyEntry[] = [{ ...full(palette.accent), text: "filled as far as two terms move together" }];
  if (cells.some(({ correlation }) => correlation < 0)) {
    const hollow = { ...square, fill: palette.paper, stroke: palette.accent };
    key.push({ ...hollow, text: "hollow: one rises as the other falls" });
  }
  if (cells.some(({ hides, correlation }) => hides && Math.abs(correlation) >= noticed))
    key.push({ ...full(palette.caution), text: "would be read into a factor's effect" });
  return key;
}
