import { differenceUnit } from "../units/index.ts";
import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";
import { isInterval, type Bootstrap, type Fit } from "../model/index.ts";

export interface DrawsOptions extends FigureOptions {
  /** Which of `bootstrap(…).figures`, from 0. Default the first. */
  readonly which?: number;
}

const height = 372;

/**
 * How one figure of a fit comes out in the draws of a bootstrap, as a histogram, with its intervals below: by percentiles, corrected for bias and acceleration, and by Student's t.
 * Use it to see whether the three agree; where the draws lean to one side, the corrected interval leans with them. On ratios the scale is one of ratios.
 * The table has the three intervals and the bars. Refuses a figure that nothing could be drawn of, with the reason.
 * Example: `drawsFigure(fit, bootstrap(fit), { which: 1 })`.
 */
export function drawsFigure(fit: Fit, drawn: Bootstrap, options: DrawsOptions = {}): Figure {
  const { which = 0 } = options;
  const { document } = settled(options);
  const figure = drawn.figures.at(which);
  if (figure === undefined)
    throw figureError({
      given: `figure ${which} of ${drawn.figures.length}`,
      expected: `0 to ${drawn.figures.length - 1}`,
      mend: "Name one of bootstrap(…).figures by its place.",
    });
  const { histogram, percentile, corrected, byT, label, as, estimate } = figure;
  if (histogram === null || estimate === null)
    throw figureError({
      given: `${label}, of which nothing was drawn (${percentile.text})`,
      expected: "a figure with draws",
      mend: "Cut replicates, or name another figure.",
    });
  const { edges, counts } = histogram;
  const said = confidenceText(drawn.confidence);
  const intervals = [
    ...(isInterval(percentile) ? [{ name: "percentiles", ...percentile, dash: "none" }] : []),
    ...(isInterval(corrected) ? [{ name: "corrected", ...corrected, dash: "7 4" }] : []),
    ...(byT === null ? [] : [{ name: "Student’s t", ...byT, dash: "2 3" }]),
  ];
  const ratio = as === "ratio";
  const log = ratio || (as === "value" && fit.logScale) ? "log" : "linear";
  const unit = ratio ? "" : as === "value" ? fit.response.unit : differenceUnit(fit.response.unit);
  const what = ratio
    ? `ratio of ${fit.response.name}`
    : as === "value"
      ? fit.response.name
      : `change of ${fit.response.name}`;
  const most = Math.max(...counts);
  const below = 0.34 * most;
  const x = quantityAxis({
    name: what,
    unit,
    values: [edges[0], edges[edges.length - 1], ...intervals.flatMap(({ low, high }) => [low, high])],
    log,
    margin: 0.03,
  });
  const on = framed(x, quantityAxis({ name: "", unit: "", values: [-below, most], margin: 0.04 }), {
    height,
    upright: "bare",
    left: 24,
  });
  const title = options.title ?? `${fit.response.name}, ${label}: what ${drawn.draws} draws give`;
  const rows = intervals.map(({ name, low, high, dash }, k) => ({
    name,
    low,
    high,
    dash,
    y: -((k + 0.8) * below) / (intervals.length + 0.3),
  }));
  return sheet(document, {
    kind: "draws",
    title,
    note: `${drawn.by === "runs" ? "whole runs" : "residuals"} drawn, ${said}`,
    description: [
      `${title}, seed ${drawn.seed}: estimate ${roundedText(estimate)}.`,
      ...intervals.map(
        ({ name, low, high }) => `By ${name} ${said} ${roundedText(low)} to ${roundedText(high)}.`,
      ),
      ...drawn.notes,
    ].join(" "),
    table: {
      columns: [heading("from", unit), heading("to", unit), "what"],
      rows: [
        ...intervals.map(({ name, low, high }) => [low, high, `${said} interval by ${name}`]),
        ...counts.map((count, k) => [edges[k], edges[k + 1], `${count} draws`]),
      ],
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          Plot.rect(
            counts.map((count, k) => ({ x1: edges[k], x2: edges[k + 1], y1: 0, y2: count })),
            {
              x1: "x1",
              x2: "x2",
              y1: "y1",
              y2: "y2",
              fill: palette.accent,
              fillOpacity: 0.3,
              stroke: palette.accent,
              strokeWidth: 0.5,
              className: "part-draws",
            },
          ),
          Plot.ruleY([0], { stroke: palette.rule, className: "part-base" }),
          Plot.ruleX([{ x: estimate }], {
            x: "x",
            stroke: palette.ink,
            strokeWidth: 1.6,
            className: "part-estimate",
          }),
          ...rows.flatMap(({ name, low, high, dash, y }) => [
            Plot.link([{ x1: low, x2: high, y }], {
              x1: "x1",
              x2: "x2",
              y1: "y",
              y2: "y",
              stroke: palette.ink,
              strokeWidth: 2,
              strokeDasharray: dash,
              className: "part-intervals",
            }),
            Plot.dot(
              [low, high].map((end) => ({ x: end, y })),
              { x: "x", y: "y", r: 3, fill: palette.ink, className: "part-ends" },
            ),
            Plot.text([{ x: high, y }], {
              x: "x",
              y: "y",
              dx: 8,
              text: () => name,
              textAnchor: "start",
              fontSize: lettering.small,
              fill: palette.ink,
              stroke: palette.paper,
              strokeWidth: 3.5,
              className: "part-labels",
            }),
          ]),
          outline(),
        ],
      },
    ],
    letters: on.letters,
  });
}
