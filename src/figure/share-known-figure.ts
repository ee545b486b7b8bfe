import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { figureError, requireFinite } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { lineLabels, type NamedLine } from "./line-labels.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { groupStyles, lettering, palette } from "./palette.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import { sheet } from "./sheet.ts";
import { textWidth } from "./text-width.ts";

/** One layout: half-widths of the mean at settings drawn evenly over the region, in any order. */
export interface KnownOver {
  /** Beside the line; empty where there is one layout. */
  readonly label: string;
  readonly halfWidths: readonly number[];
}

export interface ShareKnownOptions extends FigureOptions {
  /** The unit of the half-widths: the response's, or "σ" where that is not known. */
  readonly unit: string;
  /** The share of the region that is looked at, with a line across. Default 0.8. */
  readonly wanted?: number;
}

interface Curve {
  readonly label: string;
  readonly widths: readonly number[];
  /** The half-width that the wanted share of the region keeps below. */
  readonly atWanted: number;
}

const height = 344;
/** Points that a line is drawn through; the table has them too. */
const steps = 50;

/**
 * How much of the region is known to within a half-width: one rising line a layout. Use it to compare layouts for predicting or for
 * finding a best setting; the line further left knows the same share of the region better. Says where each reaches the wanted share.
 * One row a point in the table. Refuses no layout, more than four, and half-widths that are not above zero.
 * Example: `shareKnownFigure([{ label: "", halfWidths }], { unit: "µm" })`, with `halfWidths` from `halfWidthsAt`.
 */
export function shareKnownFigure(layouts: readonly KnownOver[], options: ShareKnownOptions): Figure {
  const { wanted = 0.8 } = options;
  const { document, display } = settled(options);
  check(layouts, wanted);
  const shown = shownIn(options.unit, display);
  const curves = layouts.map(({ label, halfWidths }): Curve => {
    const widths = halfWidths.map(shown.value).sort((a, b) => a - b);
    return { label, widths, atWanted: atShare(widths, wanted) };
  });
  const x = quantityAxis({
    name: "half-width of the mean",
    unit: shown.unit,
    values: [0, ...curves.map(({ widths }) => widths.at(-1) ?? 0)],
    count: 8,
    margin: 0.02,
    second: shown.second,
  });
  const y = {
    ...quantityAxis({
      name: "share of the region",
      unit: "",
      values: [0, 1],
      fixedTicks: [0, 0.2, 0.4, 0.6, 0.8, 1],
      margin: 0.03,
    }),
    texts: ["0 %", "20 %", "40 %", "60 %", "80 %", "100 %"],
  };
  const on = framed({ ...x, domain: [0, x.domain[1]] }, y, { height });
  const percent = `${roundedText(wanted * 100, 2)} %`;
  const title = options.title ?? "How well the region is known";
  const width = (value: number): string => `± ${withUnit(roundedText(value, 2), shown.unit)}`;
  return sheet(document, {
    kind: "share-known",
    title,
    note: `line across: ${percent} of the region`,
    description: [
      `${title}.`,
      ...curves.map(({ label, widths, atWanted }) => {
        const name = label === "" ? "" : `${label}: `;
        return `${name}${percent} of the region is known to within ${width(atWanted)}, half of it to ${width(atShare(widths, 0.5))}, the worst place looked at to ${width(widths.at(-1) ?? 0)}.`;
      }),
      ...comparison(curves, percent),
    ].join(" "),
    table: {
      columns: ["layout", "share of the region", heading("half-width of the mean", shown.unit)],
      rows: curves.flatMap(({ label, widths }) =>
        points(widths).map((point) => [label, point.share, point.width]),
      ),
    },
    height,
    drawings: [{ ...on.options, marks: [...marks(curves, { wanted, width }, on)] }],
    letters: on.letters,
  });
}

function check(layouts: readonly KnownOver[], wanted: number): void {
  if (
    layouts.length === 0 ||
    layouts.length > groupStyles.length ||
    layouts.some(({ halfWidths }) => halfWidths.length === 0)
  ) {
    throw figureError({
      given: `${layouts.length} layouts with ${layouts.map(({ halfWidths }) => halfWidths.length).join(", ") || "no"} half-widths`,
      expected: `one to ${groupStyles.length} layouts, each with at least one half-width`,
      mend: "Work out the half-widths over the region first.",
    });
  }
  for (const { halfWidths } of layouts) {
    for (const width of halfWidths) {
      if (requireFinite(width, "a half-width") > 0) continue;
      throw figureError({
        given: `a half-width of ${width}`,
        expected: "half-widths above zero",
        mend: "Give those of the mean over the region.",
      });
    }
  }
  if (wanted > 0 && wanted < 1) return;
  throw figureError({
    given: `a wanted share of ${wanted}`,
    expected: "a share between 0 and 1",
    mend: "Give it as a fraction, 0.8 for 80 %.",
  });
}

/** The half-width that a share of sorted ones keeps below. */
function atShare(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? 0;
}

function points(sorted: readonly number[]): readonly { readonly share: number; readonly width: number }[] {
  const most = Math.min(steps, sorted.length);
  return Array.from({ length: most }, (_, index) => {
    const share = (index + 1) / most;
    return { share, width: atShare(sorted, share) };
  });
}

function comparison(curves: readonly Curve[], percent: string): readonly string[] {
  if (curves.length < 2) return [];
  const [best, next] = [...curves].sort((a, b) => a.atWanted - b.atWanted);
  if (best === undefined || next === undefined) return [];
  const more = Math.round(100 * (next.atWanted / best.atWanted - 1));
  return [
    more < 1
      ? `At ${percent} of the region ${best.label} and ${next.label} know as much.`
      : `At ${percent} of the region ${best.label} knows most; ${next.label} is ${more} % wider.`,
  ];
}

function marks(
  curves: readonly Curve[],
  words: { readonly wanted: number; readonly width: (value: number) => string },
  on: Framed,
): readonly Plot.Markish[] {
  const { frame } = on;
  const lines = curves.map(({ widths }) => [{ share: 0, width: widths[0] ?? 0 }, ...points(widths)]);
  const named = curves.map(({ label }, index): NamedLine => ({
    text: label,
    colour: groupStyles[index].colour,
    points: lines[index].map((point) => ({ x: on.x.at(point.width), y: on.y.at(point.share) })),
    likes: "middle",
  }));
  const across = on.y.at(words.wanted);
  const feet = curves.map(({ atWanted }, index) => ({ atWanted, row: index, text: words.width(atWanted) }));
  const rule = { left: frame.left, right: frame.right, top: across - 2, bottom: across + 2 };
  const footBoxes = feet.map(({ atWanted, text, row }) => {
    const left = on.x.at(atWanted) - textWidth(text, lettering.small) - 8;
    const y = footPlace(frame.bottom, row);
    return {
      left,
      right: on.x.at(atWanted) + textWidth(text, lettering.small) + 8,
      top: y - 8,
      bottom: y + 8,
    };
  });
  return [
    ...on.under,
    Plot.ruleY([words.wanted], {
      stroke: palette.caution,
      strokeWidth: 1.4,
      strokeDasharray: "10 3 2 3",
      className: "part-wanted",
    }),
    ...lines.map((line, index) =>
      Plot.line(line, {
        x: "width",
        y: "share",
        stroke: groupStyles[index].colour,
        strokeWidth: 2.2,
        strokeDasharray: groupStyles[index].dash,
        className: "part-shares",
      }),
    ),
    ...feet.flatMap(({ atWanted, text, row }) => footMarks({ atWanted, text, row }, words.wanted, on)),
    outline(),
    ...lineLabels(named, on, [rule, ...footBoxes]),
  ];
}

function footPlace(bottom: number, row: number): number {
  return bottom - 13 - 17 * row;
}

/** A line down from where a layout reaches the wanted share, with the half-width at its foot. */
function footMarks(
  foot: { readonly atWanted: number; readonly text: string; readonly row: number },
  wanted: number,
  on: Framed,
): readonly Plot.Markish[] {
  const { frame } = on;
  const { colour, symbol } = groupStyles[foot.row];
  const right = on.x.at(foot.atWanted) + 8 + textWidth(foot.text, lettering.small) < frame.right - 4;
  const place = [{ x: foot.atWanted, y: wanted }];
  return [
    Plot.link(place, {
      x1: "x",
      x2: "x",
      y1: on.y.back(frame.bottom),
      y2: "y",
      stroke: colour,
      strokeWidth: 1,
      strokeDasharray: "2 3",
      className: "part-drop",
    }),
    Plot.dot(place, {
      x: "x",
      y: "y",
      r: 4,
      symbol,
      fill: colour,
      stroke: palette.paper,
      className: "part-reached",
    }),
    Plot.text(place, {
      x: "x",
      y: on.y.back(footPlace(frame.bottom, foot.row)),
      dx: right ? 6 : -6,
      textAnchor: right ? "start" : "end",
      text: () => foot.text,
      fill: colour,
      stroke: palette.paper,
      strokeWidth: 3.5,
      fontSize: lettering.small,
      className: "part-widths",
    }),
  ];
}
