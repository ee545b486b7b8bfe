import { LayoutError } from "../error.ts";
import { layOut } from "../lay-out.ts";
import type { Candidate, LayoutChoice, RefusedCandidate } from "./choice.ts";
import { costOf, overLimit, trialOf } from "./cost.ts";
import { figuresOf } from "./figures.ts";
import { filled, type Proposal } from "./fill.ts";
import { families } from "./propose.ts";
import { checkedQuestion, type CheckedQuestion, type LayoutQuestion } from "./question.ts";
import { questionTerms } from "./question-terms.ts";
import { answersOf, worthOf } from "./rank.ts";

/**
 * The layouts that fit a question and the passes at hand, side by side, judged, with one recommended.
 *
 * Use it before a layout is written into trial.json: each candidate carries the `layout` object to put there. Figures are
 * those of `judge` on the same runs. Refuses more than 12 factors, and numbers that can't be.
 */
export function chooseLayout(given: LayoutQuestion): LayoutChoice {
  const question = checkedQuestion(given);
  const { impossible } = questionTerms(question.factors, question.stake);
  const proposals = impossible
    ? []
    : families(question.factors, question.stake, question.passes).flatMap((family) =>
        filled(family, question.factors, question.passes, question.seed),
      );
  const candidates: Candidate[] = [];
  const refused: RefusedCandidate[] = [];
  for (const proposal of proposals) {
    const made = candidateOf(question, proposal);
    if ("reason" in made) refused.push(made);
    else candidates.push(made);
  }
  const order = { yes: 0, "with-reservation": 1, no: 2 };
  candidates.sort(
    (one, other) =>
      order[one.answers] - order[other.answers] || other.worth - one.worth || one.runs - other.runs,
  );
  const [first] = candidates;
  const recommended =
    first && first.answers !== "no" ? { id: first.id, reason: `${first.title} fits best.` } : null;
  return {
    stake: question.stake,
    passes: question.passes,
    confidence: question.confidence,
    unit: question.unit,
    candidates,
    recommended,
    refused,
    enough: { toAnswer: null, toAnswerFully: null, toSee: null, sentences: [] },
    instead: [],
    sigma: {
      known:
        question.sigmaRange === null ? "unknown" : typeof question.sigma === "number" ? "value" : "range",
      largestThatSees: null,
      learnFirst: [],
      ends: [],
      sentences: [],
    },
    advice: impossible ? [impossible] : [],
  };
}

function candidateOf(question: CheckedQuestion, proposal: Proposal): Candidate | RefusedCandidate {
  const { factors } = question;
  const { id, title, layout } = proposal;
  const trial = trialOf(question);
  try {
    const { runs } = layOut({ ...(question.trial ?? {}), factors, layout });
    const reason = overLimit(trial, runs);
    if (reason !== null) return { id, title, layout, reason };
    const figures = figuresOf(question, runs);
    return {
      id,
      title,
      layout,
      runs: runs.length,
      answers: answersOf(question, figures),
      figures,
      cost: costOf(trial, factors, runs),
      tells: [],
      cannot: [],
      worth: worthOf(question, figures, runs.length),
    };
  } catch (error) {
    if (error instanceof LayoutError) return { id, title, layout, reason: error.message };
    throw error;
  }
}
