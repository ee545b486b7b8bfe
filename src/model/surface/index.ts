// Surfaces of second degree: where they are level, how they bend, which way to go.
export { bendIntervals, type BendInterval } from "./bend-intervals.ts";
export { pathTable, type PathPlace } from "./path-table.ts";
export { ridgePath, type RidgePoint } from "./ridge-path.ts";
export { secondDegreeOf, type SecondDegree } from "./second-degree.ts";
export type { Increments } from "./setting-steps.ts";
export { stationaryRegion, type StationaryRegion } from "./stationary-region.ts";
export { steepestPath, type PathStep, type SteepestPath, type SteepestPathOptions } from "./steepest-path.ts";
export { surfaceSentences } from "./surface-sentences.ts";
export { surfaceOf } from "./surface.ts";
