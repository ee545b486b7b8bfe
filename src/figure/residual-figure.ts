import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import { countText, rowsToDraw } from "./fitted-rows.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { palette } from "./palette.ts";
import { sideBySide } from "./reading-marks.ts";
import { acrossAxis, type Against } from "./residual-axis.ts";
import { residualScale, symmetric } from "./residual-scale.ts";
import { residualText } from "./residual-text.ts";
import { runNames } from "./run-names.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";
import { marksFor, thinningText } from "./thin.ts";
import type { Fit } from "../model/index.ts";

export interface ResidualOptions extends FigureOptions {
  /** What the residuals are drawn against: a factor by its name, or one of these. Default `fitted`. */
  readonly against?: Against;
}

const height = 344;

/**
 * What each run left unexplained, against the fitted value, place in cutting order, minutes of cut (of a trial that says how long a pass takes), or a factor. Use it to see scatter that grows
 * with size, a bend the model lacks, drift, and single runs that stand apart. On logarithms a residual is the ratio of reading to
 * fit. Broken lines stand at two residual standard deviations; runs whose studentised residual passes 3 are numbered.
 * One row a run in the table. Refuses a fit without rows and an unknown factor.
 * Example: `residualFigure(fit, { against: { factor: "feed" } })`.
 */
export function residualFigure(fit: Fit, options: ResidualOptions = {}): Figure {
  const { against = "fitted" } = options;
  const { document, display } = settled(options);
  const rows = rowsToDraw(fit);
  const scale = residualScale(fit, display);
  const across = acrossAxis(fit, rows, { against, scale, display, trial: options.trial });
  const values = rows.map((row) => scale.value(row.residual));
  const sd = fit.residualSd !== null && fit.residualSd > 0 ? fit.residualSd : null;
  const guides = sd === null ? [] : [scale.value(-2 * sd), scale.value(2 * sd)];
  const y = quantityAxis({
    name: scale.name,
    unit: scale.unit,
    values: symmetric([...values, ...guides], scale),
    log: scale.type,
    margin: 0.1,
  });
  const ratio = scale.type === "log";
  const on = framed(
    across.axis,
    { ...y, texts: y.texts.map((text) => (ratio ? `×${text}` : text)) },
    { height },
  );
  const offsets = across.beside ? sideBySide(across.values.map(on.x.at)) : [];
  const places = rows.map((_, index) => ({
    x: on.x.at(across.values[index]) + (across.beside ? offsets[index] : 0),
    y: on.y.at(values[index]),
  }));
  const marks = marksFor(places);
  const apart = rows.flatMap((row, index) => {
    const from = Math.abs(row.studentised ?? 0);
    return from > 3 ? [{ ...places[index], run: row.run, from }] : [];
  });
  const names = runNames(
    [...apart].sort((a, b) => b.from - a.from),
    on,
    { marks },
  );
  const title = options.title ?? `${fit.response.name}: what the fit leaves, against ${across.title}`;
  const thinning = thinningText(marks, rows.length, "residuals");
  return sheet(document, {
    kind: "residuals",
    title,
    note:
      sd === null ? `${countText(fit)}; no scatter left` : `${countText(fit)}; broken lines: 2 residual sd`,
    description: residualText(fit, { title, scale, apart: apart.map(({ run }) => run), values, thinning }),
    table: {
      columns: [
        "run",
        across.heading,
        heading("fitted", scale.fittedUnit),
        heading(scale.name, scale.unit),
        "studentised residual",
      ],
      rows: rows.map((row, index) => [
        row.run,
        across.told[index],
        scale.fitted(row.fitted),
        values[index],
        row.studentised,
      ]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          ...residualMarks(marks, { guides, none: scale.none }, on),
          ...names.marks,
          outline(),
        ],
      },
    ],
    letters: [...on.letters, ...names.letters],
  });
}

function residualMarks(
  marks: readonly { readonly x: number; readonly y: number; readonly count: number }[],
  lines: { readonly guides: readonly number[]; readonly none: number },
  on: Framed,
): readonly Plot.Markish[] {
  const drawn = marks.map(({ x, y, count }) => ({
    x: on.x.back(x),
    y: on.y.back(y),
    none: lines.none,
    r: 3.6 + 0.8 * Math.log2(count),
  }));
  return [
    Plot.ruleY(lines.guides, {
      stroke: palette.quiet,
      strokeWidth: 1,
      strokeDasharray: "5 4",
      className: "part-guides",
    }),
    Plot.ruleY([lines.none], { stroke: palette.ink, strokeWidth: 1.2, className: "part-none" }),
    ...(drawn.length > 200
      ? []
      : [
          Plot.ruleX(drawn, {
            x: "x",
            y1: "none",
            y2: "y",
            stroke: palette.accent,
            strokeOpacity: 0.45,
            strokeWidth: 1,
            className: "part-stems",
          }),
        ]),
    Plot.dot(drawn, {
      x: "x",
      y: "y",
      r: "r",
      fill: drawn.length > 200 ? palette.paper : palette.accent,
      fillOpacity: drawn.length > 200 ? 0.6 : 1,
      stroke: drawn.length > 200 ? palette.accent : palette.paper,
      className: "part-residuals",
    }),
  ];
}
