import { figureError } from "./error.ts";
import {
  curveAlong,
  factorOf,
  settingsCut,
  settingText,
  settingsText,
  type CurvePoint,
} from "./fit-curve.ts";
import { groupStyles, type GroupStyle } from "./palette.ts";
import { placedOthers, toldApart } from "./told-apart.ts";
import type { Display } from "./shown.ts";
import type { Fit, FittedRow, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

/** One curve of a response figure, with the runs that belong to it. */
export interface ResponseGroup {
  /** What tells it from the other groups: "edge used"; where there is one group, the settings of all other factors. */
  readonly label: string;
  readonly style: GroupStyle;
  readonly at: Readonly<Record<string, Setting>>;
  readonly curve: readonly CurvePoint[];
  readonly rows: readonly FittedRow[];
}

/** Which factor a figure runs along: the one asked for, else the first quantity, else the first factor. */
export function factorAlong(fit: Fit, asked: string | undefined): ObservedFactor {
  if (asked !== undefined) return factorOf(fit, asked);
  const factor = fit.factors.find((each) => each.kind === "quantity") ?? fit.factors[0];
  if (factor !== undefined) return factor;
  throw figureError({
    given: "a fit without factors",
    expected: "at least one factor to draw along",
    mend: "Fit the response against a factor, or draw it in cutting order (orderFigure).",
  });
}

/**
 * The factor whose levels get curves of their own: the one asked for; else the first other
 * category of two to four levels whose effect can be told.
 */
export function factorApart(
  fit: Fit,
  along: ObservedFactor,
  asked: string | null | undefined,
): ObservedFactor | null {
  if (asked === null) return null;
  const found =
    asked === undefined
      ? fit.factors.find(
          (each) =>
            each.name !== along.name &&
            each.kind === "category" &&
            between2And4(settingsCut(fit, each).length) &&
            toldApart(fit, each),
        )
      : factorOf(fit, asked);
  if (found === undefined) return null;
  const levels = settingsCut(fit, found).length;
  if (found.name === along.name || levels > groupStyles.length) {
    throw figureError({
      given: `by "${found.name}", which ${found.name === along.name ? "is the factor drawn along" : `has ${levels} settings`}`,
      expected: `another factor with at most ${groupStyles.length} settings`,
      mend: "Choose another factor, or by: null for one curve.",
    });
  }
  return found;
}

function between2And4(count: number): boolean {
  return count >= 2 && count <= groupStyles.length;
}

export function responseGroups(
  fit: Fit,
  options: {
    readonly along: ObservedFactor;
    readonly apart: ObservedFactor | null;
    readonly at: Readonly<Record<string, Setting>>;
    readonly spacing: "linear" | "log";
    readonly display: Display;
  },
): readonly ResponseGroup[] {
  const { along, apart, spacing, display } = options;
  const at = placedOthers(fit, options.at, [along.name, ...(apart === null ? [] : [apart.name])]);
  const others = fit.factors
    .map((each) => each.name)
    .filter((name) => name !== along.name && name !== apart?.name);
  if (apart === null) {
    const curve = curveAlong(fit, along, at, { spacing });
    const where = curve[0]?.prediction.at ?? at;
    return [
      {
        label: settingsText(fit, where, others, display),
        style: groupStyles[0],
        at: where,
        curve,
        rows: fit.rows,
      },
    ];
  }
  return settingsCut(fit, apart).map((level, index) => {
    const curve = curveAlong(fit, along, { ...at, [apart.name]: level }, { spacing });
    return {
      label: `${apart.name} ${settingText(apart, level, display)}`,
      style: groupStyles[index],
      at: curve[0]?.prediction.at ?? at,
      curve,
      rows: fit.rows.filter((row) => row.settings[apart.name] === level),
    };
  });
}

/** Whether a run was cut where the curve stands: its other factors at the curve's settings. */
export function standsOnCurve(row: FittedRow, group: ResponseGroup, along: ObservedFactor): boolean {
  return Object.entries(group.at).every(([name, setting]) => {
    if (name === along.name) return true;
    const cut = row.settings[name];
    if (typeof cut === "number" && typeof setting === "number")
      return Math.abs(cut - setting) <= 1e-9 * Math.abs(setting);
    return cut === setting;
  });
}
