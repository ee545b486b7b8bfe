import {
  jointRecipe,
  pushOf,
  type Fit,
  type JointRecipe,
  type JointRecipeOptions,
  type LimitAsked,
} from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { listed } from "../units/index.ts";
import type { MapAsked } from "./recipe-map.ts";

/** What is asked of a recipe: as the bench's panel reads it and a published page tells it. */
export interface RecipeAsked extends Pick<JointRecipeOptions, "at" | "objective"> {
  /** By response; one that is left out has no limit to keep. */
  readonly limits: Readonly<Record<string, LimitAsked>>;
  readonly map?: MapAsked;
}

/**
 * What is asked where nothing was typed: the limits that the trial states, each for 95 % of parts; a target is no limit. Pushed is removal where the trial states what
 * that needs, else the time of a pass, else the largest feed.
 */
export function recipeAskedByTrial(trial: Trial, { assurance }: { readonly assurance: number }): RecipeAsked {
  const limits = Object.fromEntries(
    trial.spec.responses.flatMap(({ name, limit, aim }) =>
      limit === undefined || aim === "target" ? [] : [[name, { limit, assurance }] as const],
    ),
  );
  const objective = pushOf(trial, undefined);
  return { limits, ...(objective === undefined ? {} : { objective }) };
}

/** The recipe that is asked for; one call for every page, so that all tell the same. Refused as `jointRecipe` refuses. */
export function recipeFor(
  trial: Trial,
  fits: readonly Fit[],
  { limits, at, objective }: RecipeAsked,
): JointRecipe {
  return jointRecipe(trial, fits, {
    limits,
    ...(at === undefined ? {} : { at }),
    ...(objective === undefined ? {} : { objective }),
  });
}

/** Why a trial that changed no quantity has no recipe, for a reader of a page; empty where it changed one. */
export function nothingToSet({ spec }: Trial): string {
  if (spec.factors.some(({ kind }) => kind === "quantity")) return "";
  const names = listed(spec.factors.map(({ name }) => name));
  return `This trial changed only ${names}, and a recipe looks for the setting of a quantity. Which ${names} to take is told where the levels are compared.`;
}
