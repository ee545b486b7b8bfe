import { numberSetting } from "./fit-curve.ts";
import { readingsOf, runMean } from "./fitted-rows.ts";
import type { DrawnRun } from "./reading-marks.ts";
import type { ResponseScene } from "./response-scene.ts";
import { standsOnCurve, type ResponseGroup } from "./response-groups.ts";
import type { FittedRow } from "../model/index.ts";

/** The runs of one group in shown units; adjusted to the curve's other settings where that was asked for. */
export function drawnRuns(
  scene: ResponseScene,
  group: ResponseGroup,
  levels: readonly string[],
): readonly DrawnRun[] {
  const { fit, along, shown, readings } = scene;
  return group.rows.map((row) => {
    const setting = row.settings[along.name];
    const moved = readings === "adjusted" ? adjustment(scene, group, row) : (value: number) => value;
    return {
      x:
        along.kind === "category"
          ? levels.indexOf(String(setting))
          : shown.x.value(numberSetting(setting, along.name)),
      mean: shown.y.value(moved(runMean(row, fit))),
      single: readingsOf(row, fit).map((value) => shown.y.value(moved(value))),
      style: group.style,
      strong: readings === "adjusted" || standsOnCurve(row, group, along),
    };
  });
}

/** What the fit says would have been read had the other factors stood where the curve does: the residual stays as it was. */
function adjustment(scene: ResponseScene, group: ResponseGroup, row: FittedRow): (value: number) => number {
  const { fit, along } = scene;
  const there = fit.predict({ ...group.at, [along.name]: row.settings[along.name] ?? "" }).estimate;
  const here = fit.predict(row.settings).estimate;
  return (value) => (fit.logScale ? (value * there) / here : value + there - here);
}
