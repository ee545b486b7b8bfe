import { ModelError, observe, type Fit } from "../model/index.ts";
import type { Response, Trial } from "../trial/index.ts";
import { chooseModel, type ModelChoice } from "./choose-model.ts";
import { findingError } from "./error.ts";
import { fitAsPlanned } from "./fit-as-planned.ts";

/** A model named by the page's author, or a fit that was already made. */
export type AskedModel = ModelChoice["model"] | Fit;

/** One response with the model that the page shows, or why there is none. */
export interface FittedResponse {
  readonly response: Response;
  readonly fit: Fit | null;
  /** Which model, and why. */
  readonly why: string;
  /** Why there is no fit; empty where there is one. */
  readonly noFit: string;
}

const modelNames: Readonly<Record<ModelChoice["model"], string>> = {
  "power-law": "power law",
  "bent-power-law": "power law with products and squares",
  main: "each factor by itself",
  interactions: "factors and their products",
  surface: "factors, products and squares",
};

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
    return { response, fit: asked, why: "The model was chosen by the author of this page.", noFit: "" };
  }
  try {
    const observations = observe(trial, response.name);
    const choice: ModelChoice =
      asked === undefined
        ? chooseModel(observations, { layout: trial.spec.layout })
        : { model: asked, log: false, reason: "The model was chosen by the author of this page." };
    const { fit, model, wholePlots } = fitAsPlanned(trial, {
      ...choice,
      response: response.name,
      confidence,
      chosen: asked === undefined,
    });
    const why = whyText({ ...choice, model }, asked);
    return { response, fit, why: wholePlots === "" ? why : `${why} ${wholePlots}`, noFit: "" };
  } catch (error) {
    if (!(error instanceof ModelError)) throw error;
    return { response, fit: null, why: "", noFit: error.message };
  }
}

function whyText(
  { model, reason, chosenFrom }: ModelChoice,
  asked: ModelChoice["model"] | undefined,
): string {
  const start = `Fitted: ${modelNames[model]}. ${reason}`;
  if (asked !== undefined) return start;
  const who = chosenFrom === undefined ? "The plan" : "The plan and the span of the readings";
  return `${start} ${who} decided this, not how well the model fits.`;
}
