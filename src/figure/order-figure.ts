import * as Plot from "@observablehq/plot";
import { heldValues, quantityAxis } from "./axis.ts";
import { driftOf, type Drift } from "./drift.ts";
import type { Figure } from "./figure.ts";
import { confidenceText, countText, readingsOf, rowsToDraw, runMean } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import type { KeyEntry } from "./key.ts";
import { lineLabels } from "./line-labels.ts";
import { blockMarks, driftMarks, orderNames } from "./order-marks.ts";
import { orderTable, orderText } from "./order-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette, type GroupStyle } from "./palette.ts";
import { around, readingMarks, type DrawnRun } from "./reading-marks.ts";
import { sheet } from "./sheet.ts";
import { shownIn, type Shown } from "./shown.ts";
import type { Fit, FittedRow } from "../model/index.ts";

export interface OrderOptions extends FigureOptions {
  /** Runs at one fixed setting that return through the trial; they are joined. Default: the trial's runs of the role `anchor`. */
  readonly anchors?: readonly number[];
  /**
   * `adjusted` takes out of each reading what the fit says the factors did, so that what is left of drift is seen by itself; said on
   * the figure. Default `as-read`.
   */
  readonly readings?: "as-read" | "adjusted";
  /** Default `shown`: the drift that the same model finds with place in cutting order as one more term. */
  readonly drift?: "shown" | "hidden";
}

const height = 372;

/**
 * The response in the order in which the runs were cut: readings, run means, blocks, anchor runs joined, and the drift from the
 * first run to the last that is left when the model has had its say, with its interval. Use it to see wear, warm-up and outlying
 * runs. Where order and a factor moved together, no drift line is drawn and the figure says so. One row a run in the table.
 * Refuses a fit without rows.
 * Example: `orderFigure(fit, { trial })`.
 */
export function orderFigure(fit: Fit, options: OrderOptions = {}): Figure {
  const { trial, readings: form = "as-read", drift: asked = "shown" } = options;
  const { document, display } = settled(options);
  const rows = [...rowsToDraw(fit)].sort((a, b) => a.order - b.order);
  const anchors = new Set(
    options.anchors ?? trial?.runs.filter((run) => run.role === "anchor").map((run) => run.run) ?? [],
  );
  const shown = shownIn(fit.response.unit, display);
  const drift: Drift | null = asked === "shown" ? driftOf(fit) : null;
  const moved = form === "adjusted" ? withoutFactors(fit) : () => (value: number) => value;
  const runs = rows.map((row) =>
    drawnRun(fit, row, { shown, moved: moved(row), anchor: anchors.has(row.run) }),
  );
  const log = fit.logScale ? "log" : "linear";
  const line =
    drift === null || "reason" in drift
      ? []
      : drift.line.map((point) => ({
          order: point.order,
          estimate: shown.value(point.estimate),
          low: shown.value(point.low),
          high: shown.value(point.high),
        }));
  const x = quantityAxis({
    name: "place in cutting order",
    unit: "",
    values: rows.map((row) => row.order),
    count: 12,
    margin: 0.03,
    whole: "only",
  });
  const y = quantityAxis({
    name: fit.response.name,
    unit: shown.unit,
    values: heldValues(
      runs.flatMap((run) => run.single),
      line.flatMap((point) => [point.low, point.high]),
      log,
    ),
    log,
    margin: 0.1,
    second: shown.second,
  });
  const on = framed(x, y, { height });
  const readings = readingMarks(runs, on);
  const joined = rows.flatMap((row, index) =>
    anchors.has(row.run) ? [{ x: row.order, y: runs[index].mean }] : [],
  );
  const title = options.title ?? `${fit.response.name} in cutting order`;
  const marks = [
    ...on.under,
    ...blockMarks(rows, on),
    Plot.line(runs, {
      x: "x",
      y: "mean",
      stroke: palette.rule,
      strokeWidth: 0.8,
      className: "part-sequence",
    }),
    ...driftMarks(line, y.domain),
    ...(joined.length > 1
      ? [
          Plot.line(joined, {
            x: "x",
            y: "y",
            stroke: palette.ink,
            strokeWidth: 1.8,
            className: "part-anchors",
          }),
        ]
      : []),
    ...readings.marks,
    outline(),
    ...lineLabels(orderNames({ line, joined, drift }, on), on, [
      ...readings.taken,
      ...runs.map((run) => around(on.x.at(run.x), on.y.at(run.mean), 6)),
    ]),
  ];
  return sheet(document, {
    kind: "response-in-order",
    title,
    note: drift !== null && "reason" in drift ? `${countText(fit)}; ${drift.short}` : countText(fit),
    description: orderText(fit, { title, drift, rows, anchors, thinning: readings.thinning, shown, form }),
    table: orderTable(fit, rows, { anchors, shown }),
    height,
    drawings: [{ ...on.options, marks }],
    letters: on.letters,
    key: keyFor(
      { means: readings.means, form },
      line.length > 0,
      joined.length > 0,
      confidenceText(fit.confidence),
    ),
  });
}

const runStyle: GroupStyle = { colour: palette.accent, dash: "none", symbol: "circle" };
const anchorStyle: GroupStyle = { colour: palette.ink, dash: "none", symbol: "diamond2" };

function drawnRun(
  fit: Fit,
  row: FittedRow,
  options: { readonly shown: Shown; readonly moved: (value: number) => number; readonly anchor: boolean },
): DrawnRun {
  const { shown, moved } = options;
  return {
    x: row.order,
    mean: shown.value(moved(runMean(row, fit))),
    single: readingsOf(row, fit).map((value) => shown.value(moved(value))),
    style: options.anchor ? anchorStyle : runStyle,
    strong: true,
  };
}

/** Moves a reading of a row by what the fit says its settings did, to the mean of all runs. */
function withoutFactors(fit: Fit): (row: FittedRow) => (value: number) => number {
  const centre = fit.rows.reduce((sum, row) => sum + row.fitted, 0) / fit.rows.length;
  return (row) => (value) =>
    fit.logScale ? value * Math.exp(centre - row.fitted) : value + centre - row.fitted;
}

function keyFor(
  { means, form }: { readonly means: boolean; readonly form: "as-read" | "adjusted" },
  drift: boolean,
  anchors: boolean,
  confidence: string,
): readonly KeyEntry[] {
  const key: KeyEntry[] = [
    {
      sign: "dot",
      fill: palette.paper,
      stroke: palette.accent,
      radius: 2.6,
      text: `${means ? "single reading" : "reading"}${form === "adjusted" ? ", factors taken out" : ""}`,
    },
  ];
  if (means)
    key.push({
      sign: "dot",
      fill: palette.accent,
      stroke: palette.paper,
      radius: 4.6,
      text: "mean of a run",
    });
  if (anchors) key.push({ sign: "line", colour: palette.ink, dash: "none", text: "anchor runs" });
  if (drift) key.push({ sign: "band", colour: palette.accent, opacity: 0.13, text: `drift, ${confidence}` });
  return key;
}
