import type { AddedRunsView } from "./api.ts";

/** Something typed in the recipe's form that can't stand, and in which field. */
export interface RecipeProblem {
  /** The name of the field in the address: "limit.Ra", "assurance". */
  readonly field: string;
  readonly message: string;
}

/** What the form can ask of one response. */
export interface RecipeResponse {
  readonly name: string;
  readonly unit: string;
  /** "at most 0.8 µm" where the trial states a limit; else empty. */
  readonly stated: string;
  /** True where the aim does not tell the side of a limit. */
  readonly asksSide: boolean;
}

/** What the form can ask at all. */
export interface RecipeForm {
  readonly responses: readonly RecipeResponse[];
  readonly quantities: readonly { readonly name: string; readonly unit: string }[];
  readonly categories: readonly { readonly name: string; readonly levels: readonly string[] }[];
  /** What may be pushed, the one that is pushed unless stated first, and why it is not removal where it isn't. */
  readonly pushes: readonly (readonly [value: string, text: string])[];
  readonly pushNote: string;
}

/** The rule by which proof runs of one limit pass or fail. */
export interface ProofView {
  readonly response: string;
  /** "12 parts"; empty where no rule can be laid out. */
  readonly runs: string;
  readonly rule: string;
  readonly chances: string;
  readonly why: string;
  readonly method: string;
  /** Why there is no rule; empty where there is one. */
  readonly none: string;
}

export interface RecipeFound {
  readonly found: boolean;
  /** What to set, factor by factor, and what comes of it. */
  readonly settings: readonly (readonly [name: string, text: string])[];
  readonly figures: readonly (readonly [name: string, text: string])[];
  /** Each limit with its bound, its margin and how sure; why there is no recipe. */
  readonly sentences: readonly string[];
  /** HTML of the table of limits, from the library. */
  readonly table: string;
  readonly proof: readonly ProofView[];
  readonly notes: readonly string[];
  readonly methods: readonly string[];
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
