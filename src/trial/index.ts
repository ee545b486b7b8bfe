export type { CategoryFactor, Factor, QuantityFactor, Setting, Settings } from "./factor.ts";
export type { AddedHow, AddedRuns } from "./added.ts";
export type { AsCut, Reading, Run, RunRole } from "./run.ts";
export type {
  BudgetSpec,
  CutterSpec,
  MachineSpec,
  MeasurementSpec,
  PassSpec,
  Response,
  Trial,
  TrialSpec,
} from "./trial.ts";

export { parseTrialSpec, parseTrialText, readJson } from "./parse-trial-spec.ts";
export { codedValue, naturalValue } from "./coding.ts";
export { asCutSetting, factorNamed, pointsOf, settingsAsCut } from "./settings.ts";
export { wholePlotsOf, type WholePlots } from "./whole-plots.ts";
export { readingsInUse, responseNamed } from "./readings.ts";
export { settingText } from "./setting-text.ts";
export { heldQuantity } from "./held.ts";
export { whyNotASetting } from "./check-factors.ts";
export { reservedNames, whyNotAHeader } from "./names.ts";
export { nearestName } from "./nearest-name.ts";
export { TrialError } from "./error.ts";
export type { Problem } from "./error.ts";
