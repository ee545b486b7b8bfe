// What going from one setting to another does, by any fit.
export { contrast, type Contrast } from "./contrast.ts";
export type { ChangeBetween, FittedChange } from "./fitted-change.ts";
