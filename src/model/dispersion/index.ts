// Scatter as a response: how standard deviations differ between levels and settings.
export { medianOf, unequalScatter, type UnequalScatter } from "./scatter-test.ts";
