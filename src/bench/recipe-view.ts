import { nothingToSet, recipeFor, recipeMap } from "../finding/index.ts";
import { recipeTold, type JointRecipe } from "../model/index.ts";
import type { Trial, TrialSpec } from "../trial/index.ts";
import { isRefusal, messageOf } from "./error.ts";
import { tableHtmlOf } from "./fit-tables.ts";
import { figureHtml } from "./plan-figures.ts";
import type { RecipeAnswer, RecipeFound, RecipeMap } from "./recipe-api.ts";
import { recipeForm, recipeQuestion, type RecipeQuestion, type Typed } from "./recipe-question.ts";

/** The recipe that the readings allow for what was typed, the proof runs, and the map of the kept ground. */
export function recipeAnswer(trial: Trial, typed: Typed): RecipeAnswer {
  const question = recipeQuestion(trial, typed);
  const { problems, fits, asked } = question;
  const base = { form: recipeForm(trial), problems, refusal: "", recipe: null, map: null };
  if (problems.length > 0) return base;
  const nothing = nothingToSet(trial);
  if (nothing !== "") return { ...base, refusal: nothing };
  if (Object.keys(asked.limits).length === 0)
    return {
      ...base,
      refusal: "No limit is stated: type one, and the quickest setting that keeps it is looked for.",
    };
  try {
    const recipe = recipeFor(trial, fits, asked);
    return { ...base, recipe: foundView(recipe, trial.spec), map: mapView(trial, question, recipe) };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { ...base, refusal: messageOf(error) };
  }
}

function foundView(recipe: JointRecipe, spec: TrialSpec): RecipeFound {
  return { ...recipeTold(recipe, spec), table: tableHtmlOf(recipe.table, "Each limit at these settings.") };
}

function mapView(trial: Trial, { fits, asked }: RecipeQuestion, recipe: JointRecipe): RecipeMap {
  const { limits, map: over = {} } = asked;
  const { figure, caption, ...map } = recipeMap(trial, fits, { recipe, limits, asked: over });
  return { ...map, figure: figure === null ? "" : figureHtml(figure, caption, 600) };
}
