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
