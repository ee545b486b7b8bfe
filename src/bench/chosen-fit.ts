import { chooseModel, fitAsPlanned, type PageModel } from "../finding/index.ts";
import { observe, type Fit } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { confidenceFrom } from "./outlook-view.ts";

const models: readonly PageModel[] = ["power-law", "bent-power-law", "main", "interactions", "surface"];

/** A fit with the model that it was made by. */
export interface ChosenFit {
  readonly fit: Fit;
  readonly model: string;
  /** Why this one, and how whole plots are judged; empty where it was asked for and there are none. */
  readonly why: string;
}

/** The model asked for; with none asked for, the one that a published page would use. */
export function chosenFit(
  trial: Trial,
  response: string,
  { model, confidence }: { readonly model: string; readonly confidence: string },
): ChosenFit {
  const options = { response, confidence: confidenceFrom(confidence) };
  const asked = models.find((name) => name === model);
  if (asked !== undefined) {
    const { fit, wholePlots } = fitAsPlanned(trial, { ...options, model: asked });
    return { fit, model: asked, why: wholePlots };
  }
  const choice = chooseModel(observe(trial, response), { layout: trial.spec.layout });
  const planned = fitAsPlanned(trial, { ...options, ...choice, chosen: true });
  return {
    fit: planned.fit,
    model: planned.model,
    why: planned.wholePlots === "" ? choice.reason : `${choice.reason} ${planned.wholePlots}`,
  };
}
