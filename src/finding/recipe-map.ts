import { contourFigure, FigureError, type Figure } from "../figure/index.ts";
import { ModelError, type Fit, type JointRecipe, type LimitAsked } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";

/** What a map is drawn over, where it is not the first that may be. */
export interface MapAsked {
  readonly along?: string;
  readonly up?: string;
  /** The response whose contours are drawn. */
  readonly of?: string;
}

/** The map of the kept ground over two quantities, the others held at the recipe. */
export interface RecipeMap {
  readonly figure: Figure | null;
  readonly caption: string;
  readonly along: string;
  readonly up: string;
  /** Quantities that may be drawn, and responses whose contours may be. */
  readonly choices: readonly string[];
  readonly of: string;
  readonly responses: readonly string[];
  /** Why there is none; empty where there is one. */
  readonly refusal: string;
}

/** Draws where every limit is kept and how sure that border is, with the recipe in it; where it can't be drawn, the reason. */
export function recipeMap(
  trial: Trial,
  fits: readonly Fit[],
  {
    recipe,
    limits,
    asked,
  }: {
    readonly recipe: JointRecipe;
    readonly limits: Readonly<Record<string, LimitAsked>>;
    readonly asked: MapAsked;
  },
): RecipeMap {
  const choices = quantitiesOf(trial, fits);
  const named = (text: string | undefined) => choices.find((name) => name === text);
  const along = named(asked.along) ?? choices.find((name) => name !== named(asked.up)) ?? "";
  const up = [named(asked.up), ...choices].find((name) => name !== undefined && name !== along) ?? "";
  const responses = fits.map(({ response }) => response.name);
  const of = responses.find((name) => name === asked.of) ?? responses[0] ?? "";
  const caption = `Where every limit is kept (free of strokes), and how sure its border is. ${recipe.outcome === "found" ? "The diamond is the recipe" : "The diamond comes nearest"}${choices.length > 2 ? "; what is not drawn stands at it" : ""}.`;
  const base = { along, up, choices, of, responses, caption, figure: null, refusal: "" };
  if (up === "")
    return {
      ...base,
      refusal: `A map needs two quantities, and the model has ${choices.length === 1 ? `one: see ${of} against ${along} above` : "none"}.`,
    };
  try {
    const { settings } = recipe;
    return {
      ...base,
      figure: contourFigure(trial, fits, { limits, of, along, up, at: settings, mark: settings }),
    };
  } catch (error) {
    if (!(error instanceof FigureError || error instanceof ModelError)) throw error;
    return { ...base, refusal: error.message };
  }
}

/** Quantities that some model holds, in the trial's order. */
function quantitiesOf({ spec }: Trial, fits: readonly Fit[]): readonly string[] {
  const used = new Set(fits.flatMap(({ terms }) => terms.flatMap((term) => Object.keys(term))));
  return spec.factors.flatMap(({ kind, name }) => (kind === "quantity" && used.has(name) ? [name] : []));
}
