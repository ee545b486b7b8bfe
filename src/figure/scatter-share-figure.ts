import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import type { Frame } from "./frame-box.ts";
import { framedIn, outline, type Framed } from "./frame.ts";
import type { Letters } from "./letters.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn, withUnit } from "./shown.ts";
import type { RepeatScatter } from "../model/index.ts";

export interface ScatterShareOptions extends FigureOptions {
  readonly response: { readonly name: string; readonly unit: string };
}

interface Source {
  readonly source: "repeat" | "spot" | "run";
  readonly name: string;
  readonly share: number;
  readonly sd: number | null;
  readonly df: number;
  readonly fill: string;
  readonly from: number;
  readonly to: number;
}

const rowTop = 118;
const rowHeight = 30;

const names = { repeat: "repeat at one spot", spot: "spot on one surface", run: "run to run" } as const;
const fills = { repeat: palette.hair, spot: "#8fa9cf", run: palette.accent } as const;

/**
 * Where the scatter of a single reading comes from: shares of its variance from repeat to repeat at one spot, from spot to spot on
 * one surface, and from run to run at one setting, each with its standard deviation. Use it to decide whether more readings, more
 * spots or more passes would help. What could not be told is said. One row a source in the table. Refuses scatter without shares.
 * Example: `scatterShareFigure(fit.repeats, { response: fit.response })`.
 */
export function scatterShareFigure(repeats: RepeatScatter, options: ScatterShareOptions): Figure {
  const { response } = options;
  const { document, display } = settled(options);
  const shown = shownIn(response.unit, display);
  const zero = shown.value(0);
  const sources = sourcesOf(repeats, (sd) => (repeats.logScale ? sd : shown.value(sd) - zero));
  const title = options.title ?? `Where the scatter of ${response.name} comes from`;
  const height = rowTop + sources.length * rowHeight - 8;
  const frame: Frame = { width: 640, height, left: 24, right: 616, top: 34, bottom: 84 };
  const axis = quantityAxis({ name: "", unit: "", values: [0, 1], margin: 0 });
  const on = framedIn(axis, axis, frame, { across: "bare", upright: "bare" });
  const unit = repeats.logScale ? "" : shown.unit;
  return sheet(document, {
    kind: "scatter-shares",
    title,
    note: `${repeats.readings} readings on ${repeats.runs} runs`,
    description: [
      `${title}: ${repeats.readings} readings on ${repeats.runs} runs.`,
      `Shares of the variance of a single reading: ${sources.map((each) => `${each.name} ${percent(each.share)} (${sdText(each, unit, repeats.logScale)})`).join(", ")}.`,
      ...repeats.notes,
    ].join(" "),
    table: {
      columns: [
        "source",
        "share of variance",
        repeats.logScale ? "standard deviation of logarithms" : heading("standard deviation", unit),
        "degrees of freedom",
      ],
      rows: sources.map((each) => [each.name, each.share, each.sd, each.df]),
    },
    height,
    drawings: [{ ...on.options, marks: [...barMarks(sources, on), outline()] }],
    letters: [
      {
        x: 24,
        y: 22,
        text: `one reading of ${response.name}: 100 % of its variance`,
        anchor: "start",
        size: lettering.usual,
      },
      ...sources.flatMap((each, index) =>
        sourceLetters(each, { y: rowTop + index * rowHeight, unit, log: repeats.logScale }),
      ),
    ],
    key: [],
  });
}

function sourcesOf(repeats: RepeatScatter, shownSd: (sd: number) => number): readonly Source[] {
  if (repeats.shares.length === 0) {
    throw figureError({
      given: "scatter whose shares can't be told",
      expected: "repeats, spots or replicate runs",
      mend: repeats.notes[0] ?? "Take a second reading on some surfaces and cut some settings twice.",
    });
  }
  const sds = {
    repeat: [
      repeats.withinSpot ?? repeats.withinRun,
      repeats.withinSpot === null ? repeats.withinRunDf : repeats.withinSpotDf,
    ],
    spot: [repeats.betweenSpots, repeats.betweenSpotsDf],
    run: [repeats.betweenRuns, repeats.betweenRunsDf],
  } as const;
  let from = 0;
  return repeats.shares.map(({ source, share }) => {
    const [sd, df] = sds[source];
    const each = {
      source,
      name: names[source],
      share,
      sd: sd === null ? null : shownSd(sd),
      df,
      fill: fills[source],
      from,
      to: from + share,
    };
    from += share;
    return each;
  });
}

function barMarks(sources: readonly Source[], on: Framed): readonly Plot.Markish[] {
  const wide = sources.filter(({ share }) => share > 0.07);
  return [
    Plot.rect(sources, { x1: "from", x2: "to", y1: 0, y2: 1, fill: "fill", className: "part-shares" }),
    // Fills go from light to dark and are parted by cuts, so that a grey print tells them apart.
    Plot.ruleX(sources.slice(1), {
      x: "from",
      stroke: palette.paper,
      strokeWidth: 2,
      className: "part-cuts",
    }),
    Plot.rect(
      sources.map((each, index) => ({
        fill: each.fill,
        top: on.y.back(rowTop + index * rowHeight - 12),
        bottom: on.y.back(rowTop + index * rowHeight + 2),
      })),
      {
        x1: on.x.back(24),
        x2: on.x.back(40),
        y1: "bottom",
        y2: "top",
        fill: "fill",
        stroke: palette.rule,
        className: "part-swatches",
      },
    ),
    Plot.text(wide, {
      x: (each: Source) => (each.from + each.to) / 2,
      y: on.y.back((on.frame.top + on.frame.bottom) / 2),
      text: (each: Source) => percent(each.share),
      fill: (each: Source) => (each.source === "run" ? palette.paper : palette.ink),
      fontSize: lettering.usual,
      fontWeight: "bold",
      className: "part-share-texts",
    }),
  ];
}

function sourceLetters(
  source: Source,
  options: { readonly y: number; readonly unit: string; readonly log: boolean },
): readonly Letters[] {
  const { y, unit, log } = options;
  const df = `${source.df} ${source.df === 1 ? "degree" : "degrees"} of freedom`;
  return [
    {
      x: 50,
      y,
      text: `${source.name}: ${percent(source.share)}`,
      anchor: "start",
      size: lettering.usual,
      weight: "bold",
    },
    { x: 300, y, text: `${sdText(source, unit, log)}, ${df}`, anchor: "start" },
  ];
}

function sdText({ sd }: Source, unit: string, log: boolean): string {
  if (sd === null) return "standard deviation can’t be told";
  // Of logarithms, a small standard deviation is a share of the reading.
  return log
    ? `standard deviation a ratio of ×${roundedText(Math.exp(sd))}`
    : `standard deviation ${withUnit(roundedText(sd), unit)}`;
}

function percent(share: number): string {
  return `${roundedText(share * 100, share < 0.1 ? 1 : 2)} %`;
}
