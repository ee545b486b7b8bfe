import type { RecipeTold } from "../model/index.ts";
import type { AddedRunsView } from "./api.ts";
import type { RecipeForm } from "./recipe-form.ts";

/** Something typed in the recipe's form that can't stand, and in which field. */
export interface RecipeProblem {
  /** The name of the field in the address: "limit.Ra", "assurance". */
  readonly field: string;
  readonly message: string;
}

/** A recipe as the library tells it, with its table. */
export interface RecipeFound extends RecipeTold {
  /** HTML of the table of limits, from the library. */
  readonly table: string;
}

/** The map of the kept ground over two quantities, the others held at the recipe. */
export interface RecipeMap {
  /** HTML of the figure, from the library; empty where there is none. */
  readonly figure: string;
  readonly along: string;
  readonly up: string;
  /** Quantities that may be drawn, and responses whose contours may be. */
  readonly choices: readonly string[];
  readonly of: string;
  readonly responses: readonly string[];
  /** Why there is none; empty where there is one. */
  readonly refusal: string;
}

export interface RecipeAnswer {
  readonly form: RecipeForm;
  readonly problems: readonly RecipeProblem[];
  /** Why there is no answer though nothing that was typed is wrong; empty where there is one. */
  readonly refusal: string;
  readonly recipe: RecipeFound | null;
  readonly map: RecipeMap | null;
}

/** How much room the limits leave, what to cut next and what stopping costs. */
export interface RecipeNextAnswer {
  readonly sentences: readonly string[];
  readonly table: string;
  /** The passes, to be added to the plan; null where none is worth it. */
  readonly add: AddedRunsView | null;
  readonly room: string;
  readonly roomTable: string;
  readonly methods: readonly string[];
  readonly refusal: string;
}
