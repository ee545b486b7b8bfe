import { contourFigure } from "../figure/index.ts";
import { jointRecipe, proofMethod, recipeMethods, type Fit, type JointRecipe } from "../model/index.ts";
import { settingText, type Trial, type TrialSpec } from "../trial/index.ts";
import { formatNumber, listed } from "../units/index.ts";
import { isRefusal, messageOf } from "./error.ts";
import { tableHtmlOf } from "./fit-tables.ts";
import { figureHtml } from "./plan-figures.ts";
import type { ProofView, RecipeAnswer, RecipeFound, RecipeMap } from "./recipe-api.ts";
import { recipeForm, recipeQuestion, type RecipeQuestion, type Typed } from "./recipe-question.ts";

/** The recipe that the readings allow for what was typed, the proof runs, and the map of the kept ground. */
export function recipeAnswer(trial: Trial, typed: Typed): RecipeAnswer {
  const question = recipeQuestion(trial, typed);
  const { problems, fits, limits, options } = question;
  const base = { form: recipeForm(trial), problems, refusal: "", recipe: null, map: null };
  if (problems.length > 0) return base;
  if (Object.keys(limits).length === 0)
    return {
      ...base,
      refusal: "No limit is stated: type one, and the quickest setting that keeps it is looked for.",
    };
  try {
    const recipe = jointRecipe(trial, fits, options);
    return { ...base, recipe: foundView(recipe, trial.spec), map: mapView(trial, question, recipe, typed) };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { ...base, refusal: messageOf(error) };
  }
}

function foundView(recipe: JointRecipe, spec: TrialSpec): RecipeFound {
  return {
    found: recipe.outcome === "found",
    settings: spec.factors.flatMap((factor) => {
      const setting = recipe.settings[factor.name];
      return setting === undefined
        ? []
        : [[factor.name, settingText(factor, setting, spec.display)] as const];
    }),
    figures: recipe.outcome === "found" ? figuresOf(recipe) : [],
    sentences: [
      ...(recipe.outcome === "found" ? [] : [`No settings keep every limit: ${recipe.reason}.`]),
      ...recipe.limits.map(({ text }) => text),
    ],
    table: tableHtmlOf(recipe.table, "Each limit at these settings."),
    proof: recipe.proof.map(proofView),
    notes: recipe.notes.map((note) => `${note.charAt(0).toUpperCase()}${note.slice(1)}.`),
    methods: recipeMethods(recipe),
  };
}

/** What a pass comes to, and what binds, as the shop reads it beside the settings. */
function figuresOf(recipe: JointRecipe): RecipeFound["figures"] {
  const { removalRateCm3PerMin: removal, minutes, removalRatio, minutesRatio, binding, stops } = recipe;
  const number = (value: number) => formatNumber(value, { digits: 3 });
  const today = (ratio: number | null) => (ratio === null ? "" : `, ${number(ratio)} times today's`);
  const ends = stops.flatMap(({ factor, by }) =>
    by.includes("machine")
      ? [`the machine's limits (${factor})`]
      : by.includes("range")
        ? [`the end of what was cut (${factor})`]
        : [],
  );
  const together = percentText(recipe.assuranceTogether);
  const what = [...(binding.length === 0 ? [] : [`the bound of ${listed(binding)}`]), ...ends];
  return [
    ...(removal === null ? [] : [["Removal", `${number(removal)} cm³/min${today(removalRatio)}`] as const]),
    ...(minutes === null ? [] : [["A pass takes", `${number(minutes)} min${today(minutesRatio)}`] as const]),
    ...(what.length === 0 ? [] : [["What binds", listed(what)] as const]),
    ...(recipe.limits.length < 2 ? [] : [["All limits together", `at least ${together} sure`] as const]),
  ];
}

function percentText(share: number): string {
  return `${Number((100 * share).toFixed(2))} %`;
}

function proofView({ response, plan, reason }: JointRecipe["proof"][number]): ProofView {
  const none = { response, runs: "", rule: "", chances: "", why: "", method: "" };
  if (plan === null) return { ...none, none: reason };
  if (plan.outcome === "none") return { ...none, none: plan.reason };
  return {
    response,
    runs: plan.runs === 1 ? "1 part" : `${plan.runs} parts`,
    rule: plan.ruleText,
    chances: plan.chancesText,
    why: plan.why,
    method: proofMethod(plan.rule),
    none: "",
  };
}

function mapView(
  trial: Trial,
  { fits, options }: RecipeQuestion,
  recipe: JointRecipe,
  typed: Typed,
): RecipeMap {
  const choices = quantitiesOf(trial, fits);
  const named = (text: string | undefined) => choices.find((name) => name === text);
  const along = named(typed["along"]) ?? choices.find((name) => name !== named(typed["up"])) ?? "";
  const up = [named(typed["up"]), ...choices].find((name) => name !== undefined && name !== along) ?? "";
  const responses = fits.map(({ response }) => response.name);
  const of = responses.find((name) => name === typed["of"]) ?? responses[0] ?? "";
  const base = { along, up, choices, of, responses, figure: "", refusal: "" };
  if (up === "")
    return {
      ...base,
      refusal: `A map needs two quantities, and the model has ${choices.length === 1 ? `one: see ${of} against ${along} above` : "none"}.`,
    };
  try {
    const figure = contourFigure(trial, fits, {
      limits: options.limits,
      of,
      along,
      up,
      at: recipe.settings,
      mark: recipe.settings,
    });
    const caption = `Where every limit is kept (free of strokes), and how sure its border is. ${recipe.outcome === "found" ? "The diamond is the recipe" : "The diamond comes nearest"}${choices.length > 2 ? "; what is not drawn stands at it" : ""}.`;
    return { ...base, figure: figureHtml(figure, caption, 600) };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { ...base, refusal: messageOf(error) };
  }
}

/** Quantities that some model holds, in the trial's order. */
function quantitiesOf({ spec }: Trial, fits: readonly Fit[]): readonly string[] {
  const used = new Set(fits.flatMap(({ terms }) => terms.flatMap((term) => Object.keys(term))));
  return spec.factors.flatMap(({ kind, name }) => (kind === "quantity" && used.has(name) ? [name] : []));
}
