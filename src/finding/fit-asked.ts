import {
  choiceNote,
  leftOutBeside,
  leftOutSentence,
  ModelError,
  observe,
  type ChosenFrom,
  type Fit,
} from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { formatNumber, isUnit, withUnit } from "../units/index.ts";
import { chooseModel, type ModelChoice, type PageModel } from "./choose-model.ts";
import { fitAsPlanned, type PlannedFit } from "./fit-as-planned.ts";
import { modelNames } from "./model-names.ts";

/** A model of one response as a page shows it: the plan's, or the one that was picked in its place. */
export interface FitAsked extends PlannedFit {
  /** Why the plan's model; null where a model was asked for. */
  readonly choice: ModelChoice | null;
  /** What a reader must know of a model that was picked in place of the plan's, in sentences; empty where it was not. */
  readonly picked: readonly string[];
}

/**
 * Fits one response by the model asked for, or with none asked for by the one that the plan asks for (see `chooseModel`).
 *
 * A model named while readings are in, where the plan asks for another, counts as picked by looking at them: the fit carries the mark (`Fit.chosenFrom`), and
 * `picked` says so, how far it misses runs left out in turn, and how far the plan's own model does. Which one was meant before any reading came is not known here;
 * to publish a model that was, make the fit and hand that to `publish`.
 *
 * Refused as `fitAsPlanned` refuses. The bench and the published page fit by this, so that they tell the same.
 */
export function fitAsked(
  trial: Trial,
  options: { readonly response: string; readonly model?: PageModel; readonly confidence?: number },
): FitAsked {
  const { model: asked, ...common } = options;
  const choice = chooseModel(observe(trial, options.response), { layout: trial.spec.layout });
  const byPlan = (): PlannedFit => fitAsPlanned(trial, { ...common, ...choice, chosen: true });
  if (asked === undefined) return { ...byPlan(), choice, picked: [] };
  const planned = attempt(byPlan);
  const log = isPowerLaw(asked);
  if (asked === (planned?.model ?? choice.model) && (log || !choice.log))
    return { ...fitAsPlanned(trial, { ...common, model: asked }), choice: null, picked: [] };
  const theirs = `${modelNames[planned?.model ?? choice.model]}${choice.log && !isPowerLaw(choice.model) ? ", on logarithms" : ""}`;
  const chosenFrom: ChosenFrom = {
    how: `one picked by hand after the readings were in, in place of the plan's (${theirs})`,
  };
  const made = fitAsPlanned(trial, { ...common, model: asked, chosenFrom });
  return {
    ...made,
    choice: null,
    picked: [
      choiceNote(chosenFrom),
      leftOutSentence(made.fit),
      planned === null ? "" : besidePlan(made.fit, planned.fit, theirs),
    ].filter((text) => text !== ""),
  };
}

function isPowerLaw(model: PageModel): boolean {
  return model === "power-law" || model === "bent-power-law";
}

function attempt<Made>(make: () => Made): Made | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof ModelError) return null;
    throw error;
  }
}

function besidePlan(fit: Fit, plan: Fit, name: string): string {
  const missed = leftOutBeside(fit, plan);
  if (missed === null) return "";
  const { unit } = fit.response;
  const text = (value: number): string => {
    const number = formatNumber(value, { digits: 2 });
    return isUnit(unit) ? withUnit(number, unit) : number;
  };
  return `On the gauge's own scale, runs left out are missed by ${text(missed.one)} by this model and by ${text(missed.other)} by the plan's (${name}).`;
}

/** The notes of a fit without the one on how its model was chosen, for a page that says it elsewhere. */
export function otherNotes(fit: Fit): readonly string[] {
  const { chosenFrom } = fit;
  if (chosenFrom === undefined) return fit.notes;
  const said = choiceNote(chosenFrom);
  return fit.notes.filter((note) => note !== said);
}
