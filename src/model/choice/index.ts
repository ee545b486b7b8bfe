// A model that its own data chose: what the choice does to the intervals.
export { bootstrapChoice, bootstrapChoiceInWorkers } from "./bootstrap-choice.ts";
export type { BootstrapChoiceOptions } from "./bootstrap-choice.ts";
export type { ChoiceBootstrap, ChoiceFigure } from "./choice-figures.ts";
