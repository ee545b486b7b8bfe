import type { Fit } from "../model/index.ts";
import { remarkMethod, remarks, type Remark } from "../review/index.ts";
import type { TrialFolder } from "../store/index.ts";
import { settingText, type Settings, type TrialSpec } from "../trial/index.ts";
import type { AddedRunsView, RemarkView, ReviewAnswer, ReviewQuestion } from "./api.ts";
import { chosenFit } from "./chosen-fit.ts";
import { isRefusal, messageOf } from "./error.ts";
import { fitView } from "./fit-view.ts";
import { trialHead } from "./trial-head.ts";

function remarkView(remark: Remark, spec: TrialSpec): RemarkView {
  const { weight, title, evidence, mend, runs, addRuns } = remark;
  return {
    weight,
    title,
    evidence,
    mend,
    runs,
    method: remarkMethod(remark),
    ...addedRunsView(addRuns, spec),
  };
}

/** Runs that may be added to the plan. */
export function addedRunsView(
  addRuns: readonly Settings[],
  { factors, display }: Pick<TrialSpec, "factors" | "display">,
): AddedRunsView {
  return {
    addColumns: factors.map(({ name }) => name),
    addRows: addRuns.map((settings) =>
      factors.map((factor) => settingText(factor, settings[factor.name] ?? "", display)),
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
  };
  const noticed = (fit?: Fit) => remarks(trial, fit).map((remark) => remarkView(remark, spec));
  try {
    const made = chosenFit(trial, response, question);
    const asked = { ...question, response, model: made.model };
    return { ...base, asked, remarks: noticed(made.fit), fit: fitView(trial, made, asked), refusal: "" };
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
