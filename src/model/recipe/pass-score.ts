import { passConditionsOf, SPEED_SLACK, speedLimits, type PassConditions } from "../../cutting/index.ts";
import type { Setting, Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { SearchAxis, SearchSpace } from "./search-space.ts";

/** What a recipe pushes: removal rate, minutes of a pass, or the product of quantities that are named. */
export type Objective = "removal" | "time" | { readonly product: readonly string[] };

/** A figure of the pass at a place of the grid. */
export type GridFigure = (place: Int32Array) => number;

/** At one combination of what stands still: what to make large, and whether the machine may run there. */
export interface PassScore {
  readonly score: GridFigure;
  readonly isAllowed: (place: Int32Array) => boolean;
}

/** The objective that is meant where none is named: removal, else time, else nothing can be told. */
export function objectiveOf({ spec }: Trial, space: SearchSpace, asked: Objective | undefined): Objective {
  const pass = passConditionsOf(spec)(settingsAt(space, 0, middlePlace(space.axes)));
  if (asked === undefined) {
    if (pass.removalRateCm3PerMin !== null) return "removal";
    if (pass.minutes !== null) return "time";
  }
  if (asked === undefined || asked === "removal" || asked === "time") {
    const what = asked === "time" ? "minutes" : "removalRateCm3PerMin";
    if (asked !== undefined && pass[what] !== null) return asked;
    const why = pass.missing.find((one) => one.what === what)?.why ?? "";
    throw modelError(
      `no ${asked === "time" ? "time of a pass" : "removal rate"} to push`,
      "a trial that states what it needs, or quantities whose product is pushed",
      why,
    );
  }
  const unknown = asked.product.find((name) => !space.axes.some((axis) => axis.name === name));
  if (asked.product.length === 0 || unknown !== undefined)
    throw modelError(
      unknown === undefined ? "no quantity to push" : `${unknown} to push`,
      `quantities that are searched: ${space.axes.map(({ name }) => name).join(", ")}`,
    );
  return asked;
}

/** Score and limits of the machine at combination `which`; `unchecked` gathers limits that can't be looked at. */
export function passScore(
  { spec }: Trial,
  space: SearchSpace,
  which: number,
  objective: Objective,
  unchecked: Set<string>,
): PassScore {
  const conditions = passConditionsOf(spec);
  const at = (place: Int32Array): PassConditions => conditions(settingsAt(space, which, place));
  const figure = (read: (pass: PassConditions) => number | null): GridFigure | null =>
    gridFigure(space.axes, (place) => read(at(place)));
  const score =
    objective === "removal"
      ? figure((pass) => pass.removalRateCm3PerMin)
      : objective === "time"
        ? figure((pass) => (pass.minutes === null ? null : 1 / pass.minutes))
        : productFigure(space.axes, objective.product);
  if (score === null)
    throw modelError(
      `no ${objective === "removal" ? "removal rate" : "time of a pass"} at ${JSON.stringify(space.combinations[which])}`,
      "a trial that states what it needs at every combination",
    );
  const limits = speedLimits(spec).flatMap((limit) => {
    const value = figure(limit.of);
    if (value !== null) return [{ value, most: limit.most * (1 + SPEED_SLACK) }];
    unchecked.add(`the ${limit.words} of ${limit.text} could not be checked`);
    return [];
  });
  return { score, isAllowed: (place) => limits.every(({ value, most }) => value(place) <= most) };
}

export function settingsAt(
  { axes, combinations }: SearchSpace,
  which: number,
  place: Int32Array,
): Readonly<Record<string, Setting>> {
  const settings: Record<string, Setting> = { ...combinations[which] };
  axes.forEach(({ name, settings: all }, i) => (settings[name] = all[place[i]]));
  return settings;
}

function middlePlace(axes: readonly SearchAxis[]): Int32Array {
  return Int32Array.from(axes, ({ settings }) => settings.length >> 1);
}

/**
 * A figure over the grid. Feeds, speeds, depths and times are products of one function a quantity: tables of those are made from one pass a setting and tried at
 * every corner and in the middle; a figure that is no such product is computed pass by pass.
 */
function gridFigure(
  axes: readonly SearchAxis[],
  direct: (place: Int32Array) => number | null,
): GridFigure | null {
  const middle = middlePlace(axes);
  const base = direct(middle);
  if (base === null || !(base > 0)) return null;
  const tables = axes.map(({ settings }, i) =>
    Float64Array.from(settings, (_, k) => {
      const place = Int32Array.from(middle);
      place[i] = k;
      return (direct(place) ?? NaN) / base;
    }),
  );
  const product: GridFigure = (place) => {
    let value = base;
    for (let i = 0; i < tables.length; i++) value *= tables[i][place[i]];
    return value;
  };
  const isProduct = corners(axes).every((place) => {
    const value = direct(place) ?? NaN;
    return Math.abs(product(place) - value) <= 1e-9 * value;
  });
  return isProduct ? product : (place) => direct(place) ?? NaN;
}

function corners(axes: readonly SearchAxis[]): readonly Int32Array[] {
  return Array.from({ length: 2 ** axes.length }, (_, bits) =>
    Int32Array.from(axes, ({ settings }, i) => ((bits >> i) & 1) * (settings.length - 1)),
  );
}

function productFigure(axes: readonly SearchAxis[], names: readonly string[]): GridFigure {
  const pushed = names.map((name) => axes.findIndex((axis) => axis.name === name));
  return (place) => {
    let value = 1;
    for (const i of pushed) value *= axes[i].settings[place[i]];
    return value;
  };
}
