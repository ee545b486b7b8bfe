import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { sentenceWidth } from "./effect-rows.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline, type Framed } from "./frame.ts";
import type { Letters } from "./letters.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn } from "./shown.ts";
import { wrapped } from "./text-width.ts";
import { isInterval, sourceWords, type MixedFit, type Uncertain, type VariancePart } from "../model/index.ts";

interface ShareRow {
  readonly part: VariancePart;
  readonly name: string;
  readonly sentence: readonly string[];
  /** Of the variance of one row, in percent. */
  readonly share: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly top: number;
  readonly height: number;
}

const lineHeight = 15.5;

/**
 * Which share of the variance each random source of a mixed fit makes, with its interval: a bar for the share, a dimension for what it may be in truth. Use
 * it to see whether set-ups, parts, days or single runs are worth working on, and how little a few levels tell of that. One row a source in the table.
 * Example: `varianceShareFigure(fitMixed(trial))`.
 */
export function varianceShareFigure(fit: MixedFit, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { response, logScale, confidence, variances } = fit;
  if (variances.length === 0) {
    throw figureError({
      given: "a fit without variances",
      expected: "a mixed fit",
      mend: "Fit with random sources: fitMixed(…).",
    });
  }
  const rows = shareRows(variances);
  const height = 44 + rows.reduce((sum, row) => sum + row.height, 0) + 52;
  const on = framed(
    quantityAxis({ name: "share of the variance", unit: "%", values: [0, 100], margin: 0.02, count: 5 }),
    quantityAxis({ name: "", unit: "", values: [0, 1] }),
    { height, left: sentenceWidth + 38, extraRight: 6, top: 36, upright: "bare" },
  );
  const title = options.title ?? `What the scatter of ${response.name} is made of`;
  const said = confidenceText(confidence);
  const shown = shownIn(response.unit, display);
  const zero = shown.value(0);
  const sd = (value: number | null): number | null =>
    value === null ? null : logScale ? value : shown.value(value) - zero;
  const [sdName, sdUnit] = logScale
    ? ["standard deviation of logarithms", ""]
    : ["standard deviation", shown.unit];
  return sheet(document, {
    kind: "variance-shares",
    title,
    note: `with ${said} intervals`,
    description: `${title}: ${rows.map(({ part }) => part.sentence).join(" ")}`,
    table: {
      columns: [
        "source",
        "levels",
        "share of the variance [%]",
        `low ${said} [%]`,
        `high ${said} [%]`,
        heading(sdName, sdUnit),
        heading("low", sdUnit),
        heading("high", sdUnit),
        "in words",
      ],
      rows: rows.map(({ part, share, low, high }) => [
        sourceWords(part.source),
        part.levels,
        share,
        low,
        high,
        sd(part.standardDeviation),
        sd(endOf(part.interval, "low")),
        sd(endOf(part.interval, "high")),
        part.sentence,
      ]),
    },
    height,
    drawings: [{ ...on.options, marks: [...on.under, ...shareMarks(rows, on), outline()] }],
    letters: [...on.letters, ...rows.flatMap(shareLetters)],
  });
}

function endOf(value: Uncertain, end: "low" | "high"): number | null {
  return isInterval(value) ? value[end] : null;
}

function shareRows(parts: readonly VariancePart[]): readonly ShareRow[] {
  let top = 36;
  return parts.map((part) => {
    const sentence = wrapped(part.sentence, sentenceWidth, lettering.small, { most: 8 });
    const height = Math.max(70, (sentence.length + 1) * lineHeight + 26);
    const [low, high] = (["low", "high"] as const).map((end) => {
      const value = endOf(part.shareInterval, end);
      return value === null ? null : 100 * value;
    });
    const row = {
      part,
      name: part.source === "residual" ? "what is left within" : sourceWords(part.source),
      sentence,
      share: 100 * part.share,
      low,
      high,
      top,
      height,
    };
    top += height;
    return row;
  });
}

function shareMarks(rows: readonly ShareRow[], on: Framed): readonly Plot.Markish[] {
  const drawn = rows.map((row) => {
    const middle = row.top + row.height / 2 + 6;
    return { ...row, y: on.y.back(middle), y1: on.y.back(middle - 9), y2: on.y.back(middle + 9) };
  });
  const barred = drawn.filter(({ low, high }) => low !== null && high !== null);
  const ends = barred.flatMap(({ low, high, y1, y2 }) => [low, high].map((x) => ({ x, y1, y2 })));
  return [
    Plot.ruleY(
      rows.slice(1).map((row) => on.y.back(row.top)),
      { stroke: palette.hair, className: "part-row-lines" },
    ),
    Plot.rect(drawn, {
      x1: 0,
      x2: "share",
      y1: "y1",
      y2: "y2",
      fill: palette.accent,
      fillOpacity: 0.25,
      className: "part-shares",
    }),
    Plot.link(barred, {
      x1: "low",
      x2: "high",
      y1: "y",
      y2: "y",
      stroke: palette.accent,
      strokeWidth: 2.2,
      className: "part-intervals",
    }),
    Plot.link(ends, {
      x1: "x",
      x2: "x",
      y1: "y1",
      y2: "y2",
      stroke: palette.accent,
      strokeWidth: 2.2,
      className: "part-interval-ends",
    }),
    Plot.dot(drawn, {
      x: "share",
      y: "y",
      r: 5.5,
      fill: palette.accent,
      stroke: palette.paper,
      strokeWidth: 2,
      className: "part-estimates",
    }),
    Plot.text(drawn, {
      // Near an end the number keeps inside the frame.
      x: ({ share }: ShareRow) => Math.min(Math.max(share, 6), 94),
      y: "y",
      dy: -19,
      text: ({ share }: ShareRow) => `${roundedText(share, share < 10 ? 1 : 2)} %`,
      fontSize: lettering.small,
      fontWeight: "bold",
      fill: palette.accent,
      stroke: palette.paper,
      strokeWidth: 3.5,
      className: "part-values",
    }),
  ];
}

function shareLetters({ name, sentence, top, height }: ShareRow): readonly Letters[] {
  const first = top + (height - (sentence.length + 1) * lineHeight) / 2 + 12;
  return [
    { x: 16, y: first, text: name, anchor: "start", size: lettering.usual, weight: "bold" },
    ...sentence.map((text, index) => ({
      x: 16,
      y: first + (index + 1) * lineHeight,
      text,
      anchor: "start" as const,
    })),
  ];
}
