import { growingFacts } from "../finding/index.ts";
import { foldChoices, grow, type Growth } from "../layout/index.ts";
import type { TrialFolder } from "../store/index.ts";
import { settingText } from "../trial/index.ts";
import type { GrowthAnswer, GrowthPreview } from "./growth-api.ts";
import { isRefusal, messageOf } from "./error.ts";
import { howOf, type GrowthForm } from "./growth-form.ts";
import { trialHead } from "./trial-head.ts";

/** What can be grown of a trial: its factors, what each fold would free, its scatter and its recipe. */
export function growthAnswer(trial: TrialFolder, now: Date): GrowthAnswer {
  const { sigmaText, recipe, noRecipe } = growingFacts(trial);
  const folds = foldsOf(trial);
  return {
    head: trialHead(trial, now),
    factors: trial.spec.factors.map(({ name }) => name),
    folds: folds.texts,
    noFold: folds.refusal,
    sigmaText,
    recipe: recipe?.text ?? "",
    noRecipe,
  };
}

function foldsOf(trial: TrialFolder): { readonly texts: readonly string[]; readonly refusal: string } {
  try {
    return { texts: foldChoices(trial).map(({ text }) => text), refusal: "" };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { texts: [], refusal: messageOf(error) };
  }
}

/** The growth that a filled form asks for. */
export function growthOf(
  trial: TrialFolder,
  form: GrowthForm,
): { readonly growth: Growth; readonly sigmaText: string } {
  const { how, facts } = howOf(form, trial);
  return {
    growth: grow(trial, how),
    sigmaText: form.sigma.trim() === "" ? facts.sigmaText : "σ is the one that was typed.",
  };
}

/** The added runs as the page shows them, with what they bring. */
export function growthPreview(trial: TrialFolder, form: GrowthForm): GrowthPreview {
  const { growth, sigmaText } = growthOf(trial, form);
  const { spec } = trial;
  return {
    columns: ["Run", "Block", "Why", ...spec.factors.map(({ name }) => name)],
    rows: growth.runs.map(({ run, block, role, settings }) => [
      String(run),
      String(block),
      role,
      ...spec.factors.map((factor) => settingText(factor, settings[factor.name] ?? "", spec.display)),
    ]),
    brings: [...growth.brings, sigmaText],
    rules: [...growth.orderRules, ...growth.notes],
    onto: trial.runs.length,
  };
}
