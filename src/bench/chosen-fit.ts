import { fitAsked, type PageModel } from "../finding/index.ts";
import type { Fit } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { confidenceFrom } from "./outlook-view.ts";

const models: readonly PageModel[] = ["power-law", "bent-power-law", "main", "interactions", "surface"];

/** A fit with the model that it was made by. */
export interface ChosenFit {
  readonly fit: Fit;
  readonly model: string;
  /** Why this one, and how whole plots are judged; empty where it was asked for and there are none. */
  readonly why: string;
  /** What a reader must know of a model that was picked in place of the plan's; empty where it was not. */
  readonly picked: readonly string[];
}

/** The model asked for; with none asked for, the one that a published page would use. */
export function chosenFit(
  trial: Trial,
  response: string,
  { model, confidence }: { readonly model: string; readonly confidence: string },
): ChosenFit {
  const asked = models.find((name) => name === model);
  const made = fitAsked(trial, {
    response,
    confidence: confidenceFrom(confidence),
    ...(asked === undefined ? {} : { model: asked }),
  });
  const why = [made.choice?.reason ?? "", made.wholePlots].filter((text) => text !== "").join(" ");
  return { fit: made.fit, model: made.model, why, picked: made.picked };
}
