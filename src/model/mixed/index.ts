// Fits with random sources of scatter: days, parts, set-ups, whole plots, runs with several readings.
export { fitMixed } from "./fit-mixed.ts";
export type { MixedOptions } from "./mixed-options.ts";
export type { AddedColumns, MixedFit, MixedPrediction, PlainClaim, VariancePart } from "./mixed-fit.ts";
export { observeMixed } from "./observe-mixed.ts";
export { mixedFitJson, type MixedFitJson } from "./mixed-json.ts";
export { isMixedFit } from "./is-mixed-fit.ts";
