// Finish with a floor that no smaller feed gets below.
export { fitFloor, type FloorOptions } from "./fit-floor.ts";
export type { FloorFit } from "./floor-fit.ts";
export { floorJson, type FloorJson } from "./floor-json.ts";
export type { FloorForm } from "./floor-model.ts";
export type { FloorPrediction } from "./predict-floor.ts";
export type { SeparatingPasses } from "./separating-passes.ts";
export type { WithoutFloor } from "./without-floor.ts";
