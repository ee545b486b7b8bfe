import { differenceUnit } from "../units/index.ts";
import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { runNames } from "./run-names.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn } from "./shown.ts";
import { marksFor, thinningText } from "./thin.ts";
import type { CrossValidation, Fit } from "../model/index.ts";

const height = 384;

/**
 * What each run read against what the others predict of it, with the line where both agree and, broken, two predictive standard deviations to either side. Use it to see how a
 * model does on runs that took no part in it, and which runs it misses. Runs beyond the broken lines are numbered.
 *
 * One row a run in the table. Refuses a cross-validation in which no run could be predicted.
 * Example: `leftOutFigure(fit, crossValidate(fit))`.
 */
export function leftOutFigure(fit: Fit, validation: CrossValidation, options: FigureOptions = {}): Figure {
  const { document, display } = settled(options);
  const { predictiveSd, notPredicted, sentence } = validation;
  const shown = shownIn(fit.response.unit, display);
  const back = (value: number): number => shown.value(fit.logScale ? Math.exp(value) : value);
  const told = validation.rows.flatMap(({ run, value, predicted, error }) =>
    predicted === null || error === null
      ? []
      : [{ run, value, error, read: back(value), predicted: back(predicted) }],
  );
  if (told.length === 0 || predictiveSd === null)
    throw figureError({
      given: "a cross-validation in which no run could be predicted from the others",
      expected: "runs that the others reach",
      mend: "Cut replicates, or take terms out of the model.",
    });
  const values = told.flatMap(({ read, predicted }) => [read, predicted]);
  const axis = (name: string) =>
    quantityAxis({
      name,
      unit: shown.unit,
      values,
      log: fit.logScale ? "log" : "linear",
      margin: 0.06,
    });
  const [x, y] = [
    axis(`${fit.response.name} predicted by the other runs`),
    axis(`${fit.response.name} read`),
  ];
  const on = framed(x, y, { height });
  const marks = marksFor(told.map(({ read, predicted }) => ({ x: on.x.at(predicted), y: on.y.at(read) })));
  const beyond = told
    .filter(({ error }) => Math.abs(error) > 2 * predictiveSd)
    .sort((one, other) => Math.abs(other.error) - Math.abs(one.error));
  const title = options.title ?? `${fit.response.name}: each run as the others predict it`;
  const what = validation.leave === "run" ? "run" : validation.leave === "block" ? "block" : "part";
  const held = (value: number): number => Math.min(Math.max(value, y.domain[0]), y.domain[1]);
  // Straight on either scale once drawn: a step of standard deviations is a factor on logarithms.
  const line = (steps: number) => {
    const off = (value: number): number =>
      fit.logScale
        ? value * Math.exp(steps * predictiveSd)
        : value + steps * (shown.value(predictiveSd) - shown.value(0));
    const count = 200;
    return Array.from({ length: count + 1 }, (_, k) => {
      const place = on.x.back(on.frame.left + ((on.frame.right - on.frame.left) * k) / count);
      return { x: place, y: off(place) };
    }).filter((point) => held(point.y) === point.y);
  };
  const broken = { x: "x", y: "y", stroke: palette.quiet, strokeDasharray: "5 4", className: "part-guides" };
  return sheet(document, {
    kind: "left-out",
    title,
    note: `each ${what} left out in turn; broken lines: 2 predictive sd`,
    description: [
      sentence,
      beyond.length === 0
        ? "No run lies beyond two predictive standard deviations."
        : `Beyond two predictive standard deviations: run ${beyond.map(({ run }) => run).join(", run ")}.`,
      notPredicted.length === 0 ? "" : `Not predicted by the others: run ${notPredicted.join(", run ")}.`,
      thinningText(marks, told.length, "runs"),
    ]
      .filter((each) => each !== "")
      .join(" "),
    table: {
      columns: [
        "run",
        heading(`${fit.response.name} read`, shown.unit),
        heading("predicted by the others", shown.unit),
        fit.logScale ? "read by predicted" : heading("read less predicted", differenceUnit(shown.unit)),
      ],
      rows: told.map(({ run, read, predicted }) => [
        run,
        read,
        predicted,
        fit.logScale ? read / predicted : read - predicted,
      ]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          Plot.line(line(-2), broken),
          Plot.line(line(2), broken),
          Plot.line(line(0), {
            x: "x",
            y: "y",
            stroke: palette.ink,
            strokeWidth: 1.2,
            className: "part-reference",
          }),
          Plot.dot(
            marks.map((mark) => ({
              x: on.x.back(mark.x),
              y: on.y.back(mark.y),
              r: 3.8 + 0.8 * Math.log2(mark.count),
            })),
            { x: "x", y: "y", r: "r", fill: palette.accent, stroke: palette.paper, className: "part-runs" },
          ),
          ...runNames(
            beyond.map(({ run, read, predicted }) => ({ run, x: on.x.at(predicted), y: on.y.at(read) })),
            on,
            { marks },
          ).marks,
          outline(),
        ],
      },
    ],
    letters: on.letters,
  });
}
