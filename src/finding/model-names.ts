import type { ModelChoice } from "./choose-model.ts";

/** The models of a page as a shop calls them. */
export const modelNames: Readonly<Record<ModelChoice["model"], string>> = {
  "power-law": "power law",
  "bent-power-law": "power law with products and squares",
  main: "each factor by itself",
  interactions: "factors and their products",
  surface: "factors, products and squares",
};
