import type { Factor, Setting, Settings } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";
import { sameSetting } from "../levels.ts";
import { coordinateOf } from "./axis.ts";
import type { SearchModel } from "./search-model.ts";

/** The runs that are kept, with a setting for every factor and nothing else; others are refused. */
export function checkedKeep(factors: readonly Factor[], keep: readonly Settings[]): readonly Settings[] {
  return keep.map((settings) =>
    Object.fromEntries(factors.map((factor) => [factor.name, checkedSetting(factor, settings)])),
  );
}

function checkedSetting(factor: Factor, settings: Settings): Setting {
  const setting = settings[factor.name];
  if (factor.kind === "quantity" && typeof setting === "number" && Number.isFinite(setting)) {
    if (factor.scale !== "log" || setting > 0) return setting;
  }
  if (factor.kind === "category" && typeof setting === "string" && factor.levels.includes(setting))
    return setting;
  throw new LayoutError(
    `layout.keep: ${JSON.stringify(setting)} is no setting of ${factor.name}; expected ${factor.kind === "quantity" ? `a number of ${factor.unit}${factor.scale === "log" ? " above zero" : ""}` : listed(factor.levels, "or")}.`,
  );
}

/** Coordinates of the runs that are kept; they may lie outside the ranges. */
export function keptCoordinates(model: SearchModel, keep: readonly Settings[]): Float64Array {
  return Float64Array.from(
    keep.flatMap((settings) => model.axes.map((axis) => coordinateOf(axis, settings[axis.factor.name] ?? 0))),
  );
}

/** The whole plot of each run that is kept, from 0: it ends where a hard factor's setting changes. */
export function keptPlots(hard: readonly Factor[], keep: readonly Settings[]): readonly number[] {
  let plot = -1;
  return keep.map((settings, run) => {
    const before = keep[run - 1];
    const same =
      before !== undefined && hard.every((factor) => sameSetting(before[factor.name], settings[factor.name]));
    if (!same) plot += 1;
    return plot;
  });
}
