import { fitLinear, ModelError, observe, recipes, type Fit } from "../model/index.ts";
import { responseNamed, settingText, type Settings, type Trial } from "../trial/index.ts";
import { differenceUnit, formatNumber } from "../units/index.ts";
import { chooseModel } from "./choose-model.ts";
import { fitAsPlanned } from "./fit-as-planned.ts";

/** A recipe that proof runs or repeats could be about. */
export interface RecipeToProve {
  readonly at: Settings;
  /** What the fit foretells there, in the response's unit. */
  readonly goodMean: number;
  readonly limit: number;
  readonly side: "at-most" | "at-least";
  /** True where the fit was made on logarithms; `sigma` is then one of logarithms. */
  readonly log: boolean;
  readonly sigma: number;
  readonly text: string;
}

/** What the readings of a trial give to one who grows it. */
export interface GrowingFacts {
  readonly response: string;
  readonly unit: string;
  /** Scatter from run to run in the response's unit; null where the readings don't tell. */
  readonly sigma: number | null;
  /** Where `sigma` comes from, or why there is none. */
  readonly sigmaText: string;
  readonly recipe: RecipeToProve | null;
  /** Why there is no recipe; empty where there is one. */
  readonly noRecipe: string;
}

/**
 * The scatter and the recipe of a trial, for growing it by them: the scatter about main effects (blocks taken out), and the recipe of most
 * removal for the mean or the next part, by the model that a published page would use. What the readings can't give is null, with the reason.
 *
 * Refused: a response that the trial does not have.
 */
export function growingFacts(
  trial: Trial,
  options: { readonly response?: string; readonly for?: "mean" | "next-part" } = {},
): GrowingFacts {
  const response =
    options.response === undefined ? trial.spec.responses[0] : responseNamed(trial.spec, options.response);
  if (response === undefined) return { ...nothing("the trial has no response"), response: "", unit: "" };
  const { name, unit } = response;
  if (!trial.readings.some((reading) => reading.response === name && reading.void === ""))
    return { ...nothing(`no reading of ${name} stands yet`), response: name, unit };
  return {
    response: name,
    unit,
    ...sigmaOf(trial, name, unit),
    ...recipeOf(trial, name, options.for ?? "mean"),
  };
}

function nothing(why: string): Omit<GrowingFacts, "response" | "unit"> {
  return {
    sigma: null,
    sigmaText: `Widths are told in multiples of the scatter σ, since ${why}.`,
    recipe: null,
    noRecipe: `there is no recipe, since ${why}`,
  };
}

function sigmaOf(trial: Trial, response: string, unit: string): Pick<GrowingFacts, "sigma" | "sigmaText"> {
  const unknown = (why: string) => ({
    sigma: null,
    sigmaText: `Widths are told in multiples of the scatter σ: ${why}.`,
  });
  try {
    const { residualSd, residualDf, noInterval } = fitLinear(trial, { response });
    if (residualSd === null || !(residualSd > 0))
      return unknown(noInterval || "the runs leave no scatter to see");
    return {
      sigma: residualSd,
      sigmaText: `σ = ${formatNumber(residualSd, { digits: 3 })} ${differenceUnit(unit)}, the scatter of the readings about main effects (${residualDf} degree${residualDf === 1 ? "" : "s"} of freedom).`,
    };
  } catch (cause) {
    if (cause instanceof ModelError) return unknown(cause.message);
    throw cause;
  }
}

function recipeOf(
  trial: Trial,
  response: string,
  whom: "mean" | "next-part",
): Pick<GrowingFacts, "recipe" | "noRecipe"> {
  try {
    const fit = chosenFit(trial, response);
    const found = recipes(trial, fit, { for: whom }).recipes;
    const best = found.find(({ setting }) => setting !== null);
    if (best === undefined) return { recipe: null, noRecipe: found[0]?.text ?? "no setting keeps the limit" };
    if (fit.residualSd === null || !(fit.residualSd > 0))
      return { recipe: null, noRecipe: fit.noInterval || "the runs leave no scatter to see" };
    const { settings, estimate, limit, side, text } = best;
    return {
      recipe: {
        at: completed(trial, settings),
        goodMean: estimate,
        limit,
        side,
        log: fit.logScale,
        sigma: fit.residualSd,
        text,
      },
      noRecipe: "",
    };
  } catch (cause) {
    if (cause instanceof ModelError) return { recipe: null, noRecipe: cause.message };
    throw cause;
  }
}

function chosenFit(trial: Trial, response: string): Fit {
  const choice = chooseModel(observe(trial, response), { layout: trial.spec.layout });
  return fitAsPlanned(trial, { ...choice, response, chosen: true }).fit;
}

/** A factor that the model leaves out stands where most runs stood. */
function completed(trial: Trial, settings: Settings): Settings {
  return Object.fromEntries(
    trial.spec.factors.map(({ name }) => [name, settings[name] ?? trial.runs[0]?.settings[name] ?? ""]),
  );
}

/** "feed 0.16 mm/rev, edge used". */
export function settingsText(trial: Trial, settings: Settings): string {
  return trial.spec.factors
    .map((factor) => `${factor.name} ${settingText(factor, settings[factor.name] ?? "", trial.spec.display)}`)
    .join(", ");
}
