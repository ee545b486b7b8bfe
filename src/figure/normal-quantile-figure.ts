import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import { confidenceText, countText, rowsToDraw } from "./fitted-rows.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { standardisedResiduals } from "./residual-scale.ts";
import { normalPlaces, type NormalPlace } from "./normal-band.ts";
import { runList, runNames } from "./run-names.ts";
import { sheet } from "./sheet.ts";
import { marksFor, thinningText } from "./thin.ts";
import type { Fit } from "../model/index.ts";

export interface NormalQuantileOptions extends FigureOptions {
  /** Of the pointwise band. Default: the fit's. */
  readonly confidence?: number;
}

interface Quantile extends NormalPlace {
  readonly run: number;
  readonly residual: number;
}

const height = 384;

/**
 * Standardised residuals in rising order against the normal quantiles expected of them, with a pointwise band. Use it to see long
 * tails, skew and outliers before trusting intervals.
 *
 * The band allows for residuals being taken from their own mean and by their own standard deviation (see `normalPlaces` for how it
 * is made, its accuracy and sources). It holds for each run by itself, not for all at once.
 *
 * One row a run in the table. Refuses a fit that leaves no scatter.
 * Example: `normalQuantileFigure(fit)`.
 */
export function normalQuantileFigure(fit: Fit, options: NormalQuantileOptions = {}): Figure {
  const { confidence = fit.confidence } = options;
  const { document } = settled(options);
  rowsToDraw(fit);
  const quantiles = quantilesOf(fit, confidence);
  const reach = Math.max(
    2,
    ...quantiles.map(({ residual, expected }) => Math.max(Math.abs(residual), Math.abs(expected))),
  );
  const x = quantityAxis({
    name: "expected of a normal distribution",
    unit: "sd",
    values: quantiles.flatMap(({ expected }) => [expected, -expected]),
    margin: 0.08,
  });
  const y = quantityAxis({
    name: "standardised residual",
    unit: "sd",
    values: [-reach, reach, ...bandWithin(quantiles, reach)],
    margin: 0.06,
  });
  const on = framed(x, y, { height });
  const marks = marksFor(
    quantiles.map(({ expected, residual }) => ({ x: on.x.at(expected), y: on.y.at(residual) })),
  );
  const beyond = ({ residual, low, high }: Quantile): number => Math.max(low - residual, residual - high);
  const outside = quantiles.filter((one) => beyond(one) > 0).sort((a, b) => beyond(b) - beyond(a));
  const names = runNames(
    outside.map(({ run, expected, residual }) => ({ run, x: on.x.at(expected), y: on.y.at(residual) })),
    on,
    { marks },
  );
  const said = confidenceText(confidence);
  const title = options.title ?? `${fit.response.name}: residuals against normal quantiles`;
  const left = fit.rows.length - quantiles.length;
  return sheet(document, {
    kind: "normal-quantiles",
    title,
    note: `${said} band for each run by itself`,
    description: [
      `${title}: ${countText(fit)}.`,
      `${outside.length} of ${quantiles.length} residuals lie outside the pointwise ${said} band${outside.length === 0 ? "" : ` (${outside.length > 1 ? "farthest first: " : ""}${runList(outside.map(({ run }) => run))})`}; about ${roundedText((1 - confidence) * quantiles.length, 2)} would by chance.`,
      "The band holds for each place by itself: quantiles of the beta distribution of ordered values, drawn in because mean and standard deviation are the residuals’ own.",
      left > 0
        ? `${left} ${left === 1 ? "run that decides its" : "runs that decide their"} own fitted value left out.`
        : "",
      thinningText(marks, quantiles.length, "residuals"),
    ]
      .filter((each) => each !== "")
      .join(" "),
    table: {
      columns: ["run", "standardised residual", "expected", `${said} low`, `${said} high`],
      rows: quantiles.map(({ run, residual, expected, low, high }) => [run, residual, expected, low, high]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [...on.under, ...quantileMarks(quantiles, marks, y.domain, on), ...names.marks, outline()],
      },
    ],
    letters: [...on.letters, ...names.letters],
  });
}

function quantilesOf(fit: Fit, confidence: number): readonly Quantile[] {
  const found = standardisedResiduals(fit).flatMap((residual, index) =>
    residual === null ? [] : [{ residual, run: fit.rows[index].run }],
  );
  found.sort((a, b) => a.residual - b.residual || a.run - b.run);
  const places = normalPlaces(found.length, confidence);
  return found.map((each, index) => ({ ...each, ...places[index] }));
}

/** The band's ends, as far as they help to see the points. */
function bandWithin(quantiles: readonly Quantile[], reach: number): readonly number[] {
  return quantiles.flatMap(({ low, high }) => [Math.max(low, -reach * 1.3), Math.min(high, reach * 1.3)]);
}

function quantileMarks(
  quantiles: readonly Quantile[],
  marks: readonly { readonly x: number; readonly y: number; readonly count: number }[],
  domain: readonly [number, number],
  on: Framed,
): readonly Plot.Markish[] {
  const held = (value: number): number => Math.min(Math.max(value, domain[0]), domain[1]);
  const band = thinned(quantiles).map(({ expected, low, high }) => ({
    x: expected,
    low: held(low),
    high: held(high),
  }));
  const edge = {
    x: "x",
    stroke: palette.accent,
    strokeOpacity: 0.6,
    strokeWidth: 0.9,
    strokeDasharray: "3 3",
    className: "part-band-edge",
  };
  const ends = [on.x.back(on.frame.left), on.x.back(on.frame.right)].map((x) => ({ x, y: x }));
  const inside = ends.map(({ x }) => ({ x: held(x), y: held(x) }));
  return [
    Plot.areaY(band, {
      x: "x",
      y1: "low",
      y2: "high",
      fill: palette.accent,
      fillOpacity: 0.1,
      className: "part-band",
    }),
    Plot.line(band, { ...edge, y: "low" }),
    Plot.line(band, { ...edge, y: "high" }),
    Plot.line(inside, { x: "x", y: "y", stroke: palette.ink, strokeWidth: 1.2, className: "part-reference" }),
    Plot.dot(
      marks.map(({ x, y, count }) => ({ x: on.x.back(x), y: on.y.back(y), r: 3.8 + 0.8 * Math.log2(count) })),
      { x: "x", y: "y", r: "r", fill: palette.accent, stroke: palette.paper, className: "part-residuals" },
    ),
  ];
}

/** At most some 200 places of the band: between them it is as good as straight. */
function thinned(quantiles: readonly Quantile[]): readonly Quantile[] {
  const step = Math.max(1, Math.floor(quantiles.length / 200));
  return quantiles.filter(
    (_, index) =>
      index % step === 0 || index === quantiles.length - 1 || index < 20 || index > quantiles.length - 20,
  );
}
