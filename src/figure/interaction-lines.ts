import { figureError } from "./error.ts";
import { factorOf, numberSetting, settingsCut } from "./fit-curve.ts";
import { runMean } from "./fitted-rows.ts";
import type { ShownPoint } from "./interval-marks.ts";
import { groupStyles, type GroupStyle } from "./palette.ts";
import type { DrawnRun } from "./reading-marks.ts";
import type { Fit, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

/** One fitted line of an interaction figure. */
export interface InteractionLine {
  readonly setting: Setting;
  readonly text: string;
  readonly style: GroupStyle;
  readonly curve: readonly ShownPoint[];
}

/** The two factors asked for; else the first two, quantities first. */
export function twoFactors(
  fit: Fit,
  asked: readonly [string, string] | undefined,
): readonly [ObservedFactor, ObservedFactor] {
  const ranked = [
    ...fit.factors.filter((each) => each.kind === "quantity"),
    ...fit.factors.filter((each) => each.kind === "category"),
  ];
  const [along, apart] = asked === undefined ? ranked : asked.map((name) => factorOf(fit, name));
  if (along !== undefined && apart !== undefined && along.name !== apart.name) return [along, apart];
  throw figureError({
    given: asked === undefined ? `a fit of ${fit.factors.length} factor` : `factors ${asked.join(" and ")}`,
    expected: "two different factors of the fit",
    mend: "Name two factors, or draw one with responseFigure.",
  });
}

/** Levels of a category, four at most; lowest and highest setting of a quantity. */
export function endsOf(fit: Fit, apart: ObservedFactor): readonly Setting[] {
  const cut = settingsCut(fit, apart);
  if (apart.kind === "category") {
    if (cut.length <= groupStyles.length) return cut;
    throw figureError({
      given: `${apart.name} with ${cut.length} levels`,
      expected: `at most ${groupStyles.length} lines`,
      mend: "Put this factor along the frame and the other one apart.",
    });
  }
  return [...new Set([cut[0], cut.at(-1)])].filter((each) => each !== undefined);
}

/** The runs cut at a line's setting, each as its mean, in shown units. */
export function runsOn(
  fit: Fit,
  line: InteractionLine,
  options: {
    readonly along: ObservedFactor;
    readonly apart: ObservedFactor;
    readonly levels: readonly string[];
    readonly shown: {
      readonly x: { value: (given: number) => number };
      readonly y: { value: (given: number) => number };
    };
  },
): readonly DrawnRun[] {
  const { along, apart, levels, shown } = options;
  return fit.rows
    .filter((row) => row.settings[apart.name] === line.setting)
    .map((row) => {
      const setting = row.settings[along.name];
      const mean = shown.y.value(runMean(row, fit));
      return {
        x:
          along.kind === "category"
            ? levels.indexOf(String(setting))
            : shown.x.value(numberSetting(setting, along.name)),
        mean,
        single: [mean],
        style: line.style,
        strong: true,
      };
    });
}

/** Where a line is told: its ends; of a category every level. */
export function endPoints(curve: readonly ShownPoint[]): readonly ShownPoint[] {
  const last = curve.at(-1);
  const [first] = curve;
  return first === undefined || last === undefined
    ? []
    : first === last
      ? [first]
      : curve.length <= 4
        ? curve
        : [first, last];
}
