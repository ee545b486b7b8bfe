// What going from one setting to another does, by any fit.
export { contrast } from "./contrast.ts";
export type { Contrast } from "./told-contrast.ts";
export type { ChangeBetween, FittedChange } from "./fitted-change.ts";
