import { ModelError, type Fit } from "../model/index.ts";
import type { Response, Trial } from "../trial/index.ts";
import type { ModelChoice } from "./choose-model.ts";
import { findingError } from "./error.ts";
import { fitAsked, type FitAsked } from "./fit-asked.ts";
import { modelNames } from "./model-names.ts";

/** A model named by the page's author, or a fit that was already made. */
export type AskedModel = ModelChoice["model"] | Fit;

/** One response with the model that the page shows, or why there is none. */
export interface FittedResponse {
  readonly response: Response;
  readonly fit: Fit | null;
  /** Which model, and why. */
  readonly why: string;
  /** What a reader must know of a model that was picked in place of the plan's; empty where it was not. */
  readonly picked: readonly string[];
  /** Why there is no fit; empty where there is one. */
  readonly noFit: string;
}

/** Every response of a trial, fitted; a response that can't be fitted stays, with the reason. */
export function fitResponses(
  trial: Trial,
  options: { readonly confidence: number; readonly models: Readonly<Record<string, AskedModel>> },
): readonly FittedResponse[] {
  const names = trial.spec.responses.map((response) => response.name);
  const unknown = Object.keys(options.models).find((name) => !names.includes(name));
  if (unknown !== undefined) {
    throw findingError(
      `models names the response "${unknown}"; the trial has ${names.join(", ")}. Name one of these.`,
    );
  }
  return trial.spec.responses.map((response) => fitResponse(trial, response, options));
}

function fitResponse(
  trial: Trial,
  response: Response,
  {
    confidence,
    models,
  }: { readonly confidence: number; readonly models: Readonly<Record<string, AskedModel>> },
): FittedResponse {
  const asked = models[response.name];
  if (typeof asked === "object") {
    if (asked.response.name !== response.name) {
      throw findingError(
        `models.${response.name} is a fit of ${asked.response.name}. Give the fit of ${response.name}.`,
      );
    }
    return {
      response,
      fit: asked,
      why: "The model was chosen by the author of this page.",
      picked: [],
      noFit: "",
    };
  }
  try {
    const made = fitAsked(trial, {
      response: response.name,
      confidence,
      ...(asked === undefined ? {} : { model: asked }),
    });
    const why = whyText(made);
    const { fit, wholePlots, picked } = made;
    return { response, fit, why: wholePlots === "" ? why : `${why} ${wholePlots}`, picked, noFit: "" };
  } catch (error) {
    if (!(error instanceof ModelError)) throw error;
    return { response, fit: null, why: "", picked: [], noFit: error.message };
  }
}

function whyText({ model, choice }: FitAsked): string {
  const start = `Fitted: ${modelNames[model]}.`;
  if (choice === null) return `${start} The model was chosen by the author of this page.`;
  const who = choice.chosenFrom === undefined ? "The plan" : "The plan and the span of the readings";
  return `${start} ${choice.reason} ${who} decided this, not how well the model fits.`;
}
