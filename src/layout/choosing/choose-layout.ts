import { adviceOf, reasonOf } from "./advice.ts";
import { deskFor, type Assessed, type Desk } from "./assess.ts";
import type { Candidate, LayoutChoice } from "./choice.ts";
import { costOf } from "./cost.ts";
import { enoughFor } from "./enough.ts";
import { lesserQuestions } from "./lesser-questions.ts";
import { checkedQuestion, type LayoutQuestion } from "./question.ts";
import { shortlist } from "./shortlist.ts";
import { sigmaAdvice } from "./sigma-advice.ts";
import { cannotTell, tells } from "./tells.ts";

/**
 * The layouts that fit a question and the passes at hand, side by side, judged, with one recommended and the reason.
 *
 * Use it before a layout is written into trial.json: each candidate carries the `layout` object to put there. Give the factors
 * (1 to 12), what is at stake, the passes at hand, and what is known of the scatter (`sigma`: a value, a range, or nothing)
 * and of the smallest `effect` worth knowing, both in the response's unit; with a `trial` (held, cutter, machine, pass, budget)
 * the cost of each is reckoned, and layouts over a stated limit are named in `refused` with the reason. Every kind that
 * applies is laid out and judged; figures are those of `judge` on the same runs, with σ at the high end of its range. The rule of
 * ranking stands in `worthOf`. Where the passes are too few, `recommended` is null, `enough` says how many would do, and
 * `instead` what can be asked with those at hand. The same question gives the same choice: searches start from `seed`.
 *
 * Refuses more than 12 factors, passes that are not a whole number from 1, and a σ, an effect or a confidence that can't be.
 *
 * Example: four quantities, `which-matter`, 12 passes: a half fraction in 8 runs with 4 centre runs.
 */
export function chooseLayout(given: LayoutQuestion): LayoutChoice {
  const question = checkedQuestion(given);
  const desk = deskFor(question);
  const { fitting, refused } = shortlist(desk);
  const candidates = fitting.map((assessed) => candidateOf(desk, assessed));
  const [first] = fitting;
  const best = first && first.answers !== "no" ? first : null;
  const enough = enoughFor(desk, fitting);
  const instead = best ? [] : lesserQuestions(desk);
  const sigma = sigmaAdvice(desk, best);
  return {
    stake: question.stake,
    passes: question.passes,
    confidence: question.confidence,
    unit: question.unit,
    effect: question.effect ?? null,
    sigma,
    candidates,
    recommended: best && { id: best.proposal.id, reason: reasonOf(desk, best, fitting) },
    refused: refused.map(({ proposal: { id, title, layout }, reason }) => ({ id, title, layout, reason })),
    enough,
    instead,
    advice: adviceOf(desk, { best, fitting, refused, enough, instead, sigma }),
  };
}

function candidateOf(desk: Desk, assessed: Assessed): Candidate {
  const { proposal, figures, layout, answers, worth } = assessed;
  return {
    id: proposal.id,
    title: proposal.title,
    layout: proposal.layout,
    runs: layout.runs.length,
    answers,
    figures,
    cost: costOf(desk.trial, desk.question.factors, layout.runs),
    tells: tells(desk, assessed),
    cannot: cannotTell(desk, assessed),
    worth,
  };
}
