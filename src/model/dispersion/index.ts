// Scatter as a response: how standard deviations differ between levels and settings.
export { medianOf, unequalScatter, type UnequalScatter } from "./scatter-test.ts";
export { scatterBeside, type ScatterBeside } from "./scatter-beside.ts";
export { logVarianceMoments, type LogVarianceMoments } from "./log-variance.ts";
export type { ScatterCell, ScatterOf } from "./scatter-cells.ts";
export type { ScatterEffect } from "./scatter-effect.ts";
export { scatterFromReplicates, type ScatterFit, type ScatterOptions } from "./scatter-from-replicates.ts";
export {
  scatterFromResiduals,
  type ResidualScatter,
  type ResidualScatterEffect,
  type ResidualScatterOptions,
} from "./scatter-from-residuals.ts";
