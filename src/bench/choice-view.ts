import { choiceFigure } from "../figure/index.ts";
import { chooseLayout, type Candidate, type LayoutChoice, type Stake } from "../layout/index.ts";
import type { TrialSpec } from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";
import type { DraftProblem } from "./api.ts";
import type { CandidateView, ChoiceAnswer } from "./choice-api.ts";
import type { OutlookDraft } from "./draft.ts";
import { isRefusal, messageOf } from "./error.ts";
import { layoutTexts } from "./layout-texts.ts";
import { confidenceFrom, scatterFrom, typedIn } from "./outlook-view.ts";
import { drawn } from "./plan-figures.ts";
import { shown } from "./shown.ts";

/** More side by side than this are not compared but counted. */
const mostShown = 8;

function problem(field: string, message: string, missing = false): ChoiceAnswer {
  return { ...nothing, problems: [{ field, message, missing } satisfies DraftProblem] };
}

const nothing: ChoiceAnswer = {
  problems: [],
  candidates: [],
  figures: [],
  advice: [],
  instead: [],
  refused: [],
};

/** The layouts that fit the form's question and its passes, side by side; what must be said first where there is none. */
export function choiceAnswer(spec: TrialSpec, outlook: OutlookDraft): ChoiceAnswer {
  const passes = spec.budget?.passes;
  if (passes === undefined) return problem("budget.passes", "How many passes are at hand.", true);
  const unit = spec.responses[0]?.unit ?? "1";
  try {
    const choice = chooseLayout({
      factors: spec.factors,
      stake: outlook.stake satisfies Stake,
      passes,
      sigma: scatterFrom(outlook.sigma, unit) ?? undefined,
      effect: typedIn(outlook.effect, unit) ?? undefined,
      confidence: confidenceFrom(outlook.confidence),
      unit: unit === "1" ? "" : unit,
      trial: spec,
      ...(typeof spec.layout.seed === "number" ? { seed: spec.layout.seed } : {}),
    });
    return answerOf(choice, spec);
  } catch (error) {
    if (!isRefusal(error)) throw error;
    const message = messageOf(error);
    const field = /^(sigma|effect|confidence|passes|factors|stake)\b/.exec(message)?.[1] ?? "stake";
    return problem(field === "passes" ? "budget.passes" : field, message);
  }
}

function answerOf(choice: LayoutChoice, spec: TrialSpec): ChoiceAnswer {
  const { recommended, enough, sigma, advice, candidates } = choice;
  const shownOnes = candidates.slice(0, mostShown);
  const seed = spec.layout.seed;
  const view = (candidate: Candidate): CandidateView => ({
    id: candidate.id,
    title: sentenceCase(candidate.title),
    layout: layoutTexts({ ...(typeof seed === "number" ? { seed } : {}), ...candidate.layout }, spec.factors),
    runs: candidate.runs,
    answers: candidate.answers,
    cost: costTexts(candidate, spec),
    tells: candidate.tells,
    cannot: candidate.cannot,
    recommended: candidate.id === recommended?.id ? recommended.reason : "",
  });
  return {
    problems: [],
    candidates: shownOnes.map(view),
    figures:
      shownOnes.length === 0
        ? []
        : drawn([
            [
              () => choiceFigure(choice, { most: mostShown }),
              "How finely each layout would know the effects: the further left, the better.",
            ],
          ]),
    advice: [...new Set([...advice, ...enough.sentences, ...sigma.sentences])],
    instead: choice.instead.map(({ text, layout }) => ({
      text,
      layout: layout === null ? null : layoutTexts(layout, spec.factors),
    })),
    refused: choice.refused.map(({ title, reason }) => `${sentenceCase(title)}: ${reason}`),
  };
}

function costTexts({ cost, runs }: Candidate, spec: TrialSpec): readonly string[] {
  const { budget = {} } = spec;
  const of = (atHand: number | undefined) => (atHand === undefined ? "" : ` of ${formatNumber(atHand)}`);
  const { minutes, edges, stockMm, setUps } = cost;
  return [
    `${runs} passes${of(budget.passes)}`,
    ...(minutes === null ? [] : [`${formatNumber(minutes, { digits: 3 })} min${of(budget.minutes)}`]),
    ...(edges === null
      ? []
      : [`${edges} ${edges === 1 && budget.edges === undefined ? "edge" : "edges"}${of(budget.edges)}`]),
    ...(stockMm === null ? [] : [`${shown(spec, stockMm, "mm")} of stock`]),
    ...(setUps > 1 ? [`${setUps} set-ups`] : []),
  ];
}

function sentenceCase(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
