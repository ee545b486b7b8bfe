import { categoryAxis, quantityAxis, type Axis } from "./axis.ts";
import { figureError } from "./error.ts";
import { factorOf, numberSetting, settingsCut } from "./fit-curve.ts";
import type { ResidualScale } from "./residual-scale.ts";
import { heading, shownIn, type Display } from "./shown.ts";
import { minutesBehind } from "../layout/index.ts";
import type { Fit, FittedRow } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";

/** What residuals are drawn against: a factor by its name, or one of these. */
export type Against = { readonly factor: string } | "fitted" | "order" | "minutes";

/** The axis along a residual figure and where each row stands on it. */
export interface Across {
  readonly axis: Axis;
  readonly values: readonly number[];
  readonly told: readonly (number | string)[];
  readonly heading: string;
  readonly title: string;
  readonly beside: boolean;
}

export function acrossAxis(
  fit: Fit,
  rows: readonly FittedRow[],
  options: {
    readonly against: Against;
    readonly scale: ResidualScale;
    readonly display: Display;
    readonly trial: Trial | undefined;
  },
): Across {
  const { against, scale, display } = options;
  if (against === "minutes") {
    const values = minutesOf(rows, options.trial);
    const axis = quantityAxis({
      name: "minutes of cut to the middle of the run",
      unit: "min",
      values,
      margin: 0.04,
    });
    return {
      axis,
      values,
      told: values.map((value) => Number(value.toPrecision(4))),
      heading: heading("minutes of cut", "min"),
      title: "minutes of cut",
      beside: false,
    };
  }
  if (against === "order") {
    const values = rows.map((row) => row.order);
    const axis = quantityAxis({
      name: "place in cutting order",
      unit: "",
      values,
      count: 12,
      margin: 0.04,
      whole: "only",
    });
    return { axis, values, told: values, heading: "place", title: "cutting order", beside: false };
  }
  if (against === "fitted") {
    const values = rows.map((row) => scale.fitted(row.fitted));
    const axis = quantityAxis({
      name: `fitted ${fit.response.name}`,
      unit: scale.fittedUnit,
      values,
      log: fit.logScale ? "log" : "linear",
    });
    return {
      axis,
      values,
      told: values,
      heading: heading("fitted", scale.fittedUnit),
      title: "the fitted value",
      beside: false,
    };
  }
  const factor = factorOf(fit, against.factor);
  if (factor.kind === "category") {
    const levels = settingsCut(fit, factor).map(String);
    const told = rows.map((row) => String(row.settings[factor.name] ?? ""));
    const values = told.map((level) => levels.indexOf(level));
    return {
      axis: categoryAxis(factor.name, levels),
      values,
      told,
      heading: factor.name,
      title: factor.name,
      beside: true,
    };
  }
  const shown = shownIn(factor.unit, display);
  const values = rows.map((row) => shown.value(numberSetting(row.settings[factor.name], factor.name)));
  const log = fit.kind === "power-law" && values.every((value) => value > 0) ? "log" : "linear";
  const axis = quantityAxis({ name: factor.name, unit: shown.unit, values, log, margin: 0.1 });
  return {
    axis,
    values,
    told: values,
    heading: heading(factor.name, shown.unit),
    title: factor.name,
    beside: true,
  };
}

/** Where each run stands in minutes of cut, half of its own included. */
function minutesOf(rows: readonly FittedRow[], trial: Trial | undefined): readonly number[] {
  const told = trial === undefined ? undefined : minutesBehind(trial.spec, trial.runs);
  if (told?.kind === "known" && rows.every(({ run }) => told.behind.has(run)))
    return rows.map(({ run }) => told.behind.get(run)!);
  throw figureError({
    given: `residuals along minutes of cut${told === undefined ? " without the trial" : ""}`,
    expected: "a trial that says how long each run is in cut",
    mend: told?.kind === "unknown" ? told.reason : "Give the trial in the options, or draw against order.",
  });
}
