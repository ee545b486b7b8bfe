import { listed } from "../units/index.ts";
import {
  fitLinear,
  fitMixed,
  fitPowerLaw,
  ModelError,
  observe,
  termsOf,
  type ChosenFrom,
  type Fit,
  type Term,
} from "../model/index.ts";
import { wholePlotsOf, type Trial } from "../trial/index.ts";
import type { ModelChoice } from "./choose-model.ts";

/** A fit of a trial that judges each factor by the scatter it was cut in. */
export interface PlannedFit {
  readonly fit: Fit;
  readonly model: ModelChoice["model"];
  /** How whole plots were taken account of, or what it means that they could not be; empty where the trial has none. */
  readonly wholePlots: string;
}

function isPowerLaw(model: ModelChoice["model"]): model is "power-law" | "bent-power-law" {
  return model === "power-law" || model === "bent-power-law";
}

/** Products and squares of the logarithms, where a power law is to have them. */
function bendsOf(
  model: "power-law" | "bent-power-law",
  trial: Trial,
  response: string,
): { readonly terms?: readonly Term[] } {
  return model === "power-law" ? {} : { terms: termsOf("surface", observe(trial, response).factors) };
}

/**
 * Fits a model to a trial as its plan asks. Where a factor is hard to change and several runs share one set-up of it, whole plots are a random source of
 * scatter (see `fitMixed`): plain least squares would take every run for a set-up of its own and claim too much of that factor. Where the whole plots
 * can't carry the model it is tried with each factor by itself, if `model` was not asked for; and where they can't carry that either (one set-up at each
 * setting), plain least squares stands, and `wholePlots` says what it can't know.
 *
 * Refused, with the reason, as `fitLinear` and `fitPowerLaw` refuse.
 * Example: a power law of a trial with 8 set-ups of the edge: `fitAsPlanned(trial, { response: "Ra", model: "power-law" }).fit` is a `MixedFit`.
 */
export function fitAsPlanned(
  trial: Trial,
  options: {
    readonly response: string;
    readonly model: ModelChoice["model"];
    readonly log?: boolean;
    readonly confidence?: number;
    /** Where the readings had a say in the model; see `chooseModel`. */
    readonly chosenFrom?: ChosenFrom;
    /** False where the model was asked for: then no other is tried. */
    readonly chosen?: boolean;
  },
): PlannedFit {
  const { response, model, log = false, confidence, chosen = false, chosenFrom } = options;
  const common = {
    response,
    ...(confidence === undefined ? {} : { confidence }),
    ...(chosenFrom === undefined ? {} : { chosenFrom }),
  };
  const plain = (): Fit =>
    isPowerLaw(model)
      ? fitPowerLaw(trial, { ...common, ...bendsOf(model, trial, response) })
      : fitLinear(trial, { ...common, model, log });
  const plots = wholePlotsOf(trial.runs, trial.spec.factors);
  // Where every run is a set-up of its own, plain least squares is right.
  if (plots === null || plots.count === trial.runs.length) return { fit: plain(), model, wholePlots: "" };
  const hard = listed(plots.factors);
  let why = "";
  const plainer = isPowerLaw(model) ? "power-law" : "main";
  const tries: readonly ModelChoice["model"][] = chosen && model !== plainer ? [model, plainer] : [model];
  for (const tried of tries) {
    try {
      const fit = fitMixed(trial, {
        ...common,
        ...(isPowerLaw(tried)
          ? { model: "power-law" as const, ...bendsOf(tried, trial, response) }
          : { model: tried, log }),
        random: ["whole plot"],
      });
      return {
        fit,
        model: tried,
        wholePlots: `The ${trial.runs.length} runs stand in ${plots.count} set-ups of ${hard} (whole plots), so ${hard} ${plots.factors.length === 1 ? "is" : "are"} judged by the scatter between set-ups.${tried === model ? "" : " They can't carry products or squares, so each factor is fitted by itself."}`,
      };
    } catch (error) {
      if (!(error instanceof ModelError)) throw error;
      if (why === "") why = error.message;
    }
  }
  const fit = plain();
  return {
    fit,
    model,
    wholePlots:
      fit.noInterval === ""
        ? `Plain least squares was fitted, which takes every run for a set-up of its own: the interval of ${hard} is too narrow by what set-ups differ, and that can't be told here (${why.replace(/\.$/, "")}).`
        : "",
  };
}
