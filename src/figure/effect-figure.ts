import { differenceUnit } from "../units/index.ts";
import { quantityAxis, type Axis } from "./axis.ts";
import { rowMarks } from "./effect-marks.ts";
import { effectRows, rowLetters, sentenceWidth, type EffectRow } from "./effect-rows.ts";
import { figureError } from "./error.ts";
import type { Figure, FigureTable } from "./figure.ts";
import { factorOf } from "./fit-curve.ts";
import { confidenceText, countText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { settled, type FigureOptions } from "./options.ts";
import { sheet } from "./sheet.ts";
import { heading, shownIn, withUnit, type Display } from "./shown.ts";
import type { Effect, Fit } from "../model/index.ts";

export interface EffectOptions extends FigureOptions {
  /** Default `size`: the largest first; `given`: as the fit lists them. */
  readonly order?: "size" | "given";
}

/**
 * What each factor does over its range, as a sentence with its interval beside it, drawn like a dimension on a drawing. Use it as
 * the main result of a fit. On logarithms the effects are ratios, on a scale of ratios with ×1 for no change. A filled blue mark:
 * the interval keeps to one side of no change; an open grey one: it does not; an open amber one: other factors moved along. An effect without interval is a bare mark, and why is
 * said. Returns one row an effect in the table. Refuses a fit that has no effects.
 * Example: `effectFigure(fit)`.
 */
export function effectFigure(fit: Fit, options: EffectOptions = {}): Figure {
  const { order = "size" } = options;
  const { document, display } = settled(options);
  if (fit.effects.length === 0) {
    throw figureError({
      given: `a fit of ${fit.response.name} without effects`,
      expected: "a model with at least one factor",
      mend: "Add a factor to the model.",
    });
  }
  const rows = effectRows(fit, display, order);
  const height = 44 + rows.reduce((sum, row) => sum + row.height, 0) + 52;
  const ratio = rows.some(({ effect }) => effect.as === "ratio");
  const axis = effectAxis(fit, rows, { ratio, display });
  const on = framed(axis, quantityAxis({ name: "", unit: "", values: [0, 1] }), {
    height,
    left: sentenceWidth + 38,
    extraRight: 6,
    top: 36,
    upright: "bare",
  });
  const title = options.title ?? `What moves ${fit.response.name}`;
  const said = confidenceText(fit.confidence);
  return sheet(document, {
    kind: "effects",
    title,
    note: fit.noInterval === "" ? `${said} intervals; ${countText(fit)}` : `no intervals; ${countText(fit)}`,
    description: `${title}, ${countText(fit)}. ${rows.map(({ effect }) => effect.sentence).join(" ")}`,
    table: effectTable(fit, rows, { ratio, display }),
    height,
    drawings: [{ ...on.options, marks: [...on.under, ...rowMarks(rows, on, ratio ? 1 : 0), outline()] }],
    letters: [...on.letters, ...rows.flatMap(rowLetters)],
  });
}

function effectAxis(
  fit: Fit,
  rows: readonly EffectRow[],
  options: { readonly ratio: boolean; readonly display: Display },
): Axis {
  const { ratio, display } = options;
  const values = rows.flatMap((row) => [row.estimate, row.low, row.high]).filter((value) => value !== null);
  const axis = quantityAxis({
    name: ratio ? `${fit.response.name} is multiplied by` : `change of ${fit.response.name}`,
    unit: ratio ? "" : differenceUnit(shownIn(fit.response.unit, display).unit),
    values: [ratio ? 1 : 0, ...values],
    log: ratio ? "log" : "linear",
    count: 5,
    margin: 0.1,
  });
  return { ...axis, texts: axis.texts.map((text) => (ratio ? `×${text}` : text)) };
}

function effectTable(
  fit: Fit,
  rows: readonly EffectRow[],
  options: { readonly ratio: boolean; readonly display: Display },
): FigureTable {
  const said = confidenceText(fit.confidence);
  const unit = options.ratio ? "ratio" : differenceUnit(shownIn(fit.response.unit, options.display).unit);
  return {
    columns: [
      "factor",
      "from",
      "to",
      heading(`effect on ${fit.response.name}`, unit),
      heading(`${said} low`, unit),
      heading(`${said} high`, unit),
      "p",
      "in words",
    ],
    rows: rows.map(({ effect, estimate, low, high }) => {
      const factor = factorOf(fit, effect.factor);
      const setting = (value: Effect["from"]): string | number =>
        typeof value === "string" ? value : withUnit(String(value), factor.unit);
      return [
        effect.factor,
        setting(effect.from),
        setting(effect.to),
        estimate,
        low,
        high,
        effect.p,
        effect.sentence,
      ];
    }),
  };
}
