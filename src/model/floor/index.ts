// Finish with a floor that no smaller feed gets below.
export { fitFloor, type FloorFit, type FloorOptions } from "./fit-floor.ts";
export type { FloorForm } from "./floor-model.ts";
export type { FloorPrediction } from "./predict-floor.ts";
export type { SeparatingPasses } from "./separating-passes.ts";
export type { WithoutFloor } from "./without-floor.ts";
