import { chooseModel, fitAsPlanned } from "../finding/index.ts";
import { observe, type Fit } from "../model/index.ts";
import { remarks, type Remark } from "../review/index.ts";
import type { TrialFolder } from "../store/index.ts";
import { settingText, type Trial, type TrialSpec } from "../trial/index.ts";
import type { RemarkView, ReviewAnswer, ReviewQuestion } from "./api.ts";
import { isRefusal, messageOf } from "./error.ts";
import { fitView } from "./fit-view.ts";
import { confidenceFrom } from "./outlook-view.ts";
import { trialHead } from "./trial-head.ts";

const linearModels = ["main", "interactions", "surface"] as const;

function linearModel(name: string): (typeof linearModels)[number] | undefined {
  return linearModels.find((model) => model === name);
}

interface Chosen {
  readonly fit: Fit;
  readonly model: string;
  /** Why this one, and how whole plots are judged; empty where it was asked for and there are none. */
  readonly why: string;
}

/** The model asked for; with none asked for, the one that a published page would use. */
function chosenFit(trial: Trial, response: string, { model, confidence }: ReviewQuestion): Chosen {
  const options = { response, confidence: confidenceFrom(confidence) };
  const asked = model === "power-law" ? model : linearModel(model);
  if (asked !== undefined) {
    const { fit, wholePlots } = fitAsPlanned(trial, { ...options, model: asked });
    return { fit, model: asked, why: wholePlots };
  }
  const choice = chooseModel(observe(trial, response));
  const planned = fitAsPlanned(trial, { ...options, ...choice, chosen: true });
  return {
    fit: planned.fit,
    model: planned.model,
    why: planned.wholePlots === "" ? choice.reason : `${choice.reason} ${planned.wholePlots}`,
  };
}

function remarkView(remark: Remark, spec: TrialSpec): RemarkView {
  const { weight, title, evidence, mend, runs, addRuns } = remark;
  return {
    weight,
    title,
    evidence,
    mend,
    runs,
    addColumns: spec.factors.map(({ name }) => name),
    addRows: addRuns.map((settings) =>
      spec.factors.map((factor) => settingText(factor, settings[factor.name] ?? "", spec.display)),
    ),
    addRuns,
  };
}

/** What the readings show and can't show, by the model asked for. */
export function reviewView(trial: TrialFolder, question: ReviewQuestion, now: Date): ReviewAnswer {
  const { spec } = trial;
  const response =
    spec.responses.find(({ name }) => name === question.response)?.name ?? spec.responses[0]?.name ?? "";
  const base = {
    head: trialHead(trial, now),
    responses: spec.responses.map(({ name, unit }) => ({ name, unit })),
    quantities: spec.factors.filter(({ kind }) => kind === "quantity").map(({ name }) => name),
  };
  const noticed = (fit?: Fit) => remarks(trial, fit).map((remark) => remarkView(remark, spec));
  try {
    const { fit, model, why } = chosenFit(trial, response, question);
    const asked = { ...question, response, model };
    return { ...base, asked, remarks: noticed(fit), fit: fitView(trial, fit, asked, why), refusal: "" };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return {
      ...base,
      asked: { ...question, response },
      remarks: noticed(),
      fit: null,
      refusal: messageOf(error),
    };
  }
}
