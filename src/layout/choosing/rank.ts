import { quantitiesOf } from "../levels.ts";
import type { Answers, CandidateFigures, GroupFigures } from "./choice.ts";
import type { CheckedQuestion } from "./question.ts";

/** A share of a hidden product below this is rounding of settings to the machine's steps, not a reservation. */
export const NEGLIGIBLE_LEANING = 0.05;

/** The group of effects that a question is about. */
export function askedGroup(
  question: Pick<CheckedQuestion, "stake">,
  figures: CandidateFigures,
): GroupFigures {
  switch (question.stake) {
    case "which-matter":
      return figures.mainEffects;
    case "how-they-combine":
      return figures.products;
    case "how-curved":
      return figures.squares;
    case "best-setting":
      return figures.mainEffects;
  }
}

/** Whether some runs answer the question; with a reservation where nothing is left for error or a hidden product moves the answer. */
export function answersOf(question: CheckedQuestion, figures: CandidateFigures): Answers {
  const group = askedGroup(question, figures);
  const whole = question.stake === "best-setting" ? figures.prediction !== null : group.told === group.of;
  if (!whole || group.of === 0 || figures.mainEffects.told < figures.mainEffects.of) return "no";
  return figures.df < 1 || figures.worstLeaning > NEGLIGIBLE_LEANING ? "with-reservation" : "yes";
}

/**
 * What a candidate is worth for the question, 0 to 100. Points, each rising with the figure it stands on, so that a candidate
 * that another beats in nothing and falls behind in something never comes first:
 *
 * - 45 for the chance to see the effect worth knowing, full from 0.9 on (for the best setting: how narrow predictions are);
 * - 25 for answers that no left-out product of two factors moves; 15 less the worst share of one where it does;
 * - 10 for degrees of freedom for error (full at 4), half of it for those from replicates (full at 3);
 * - 10 for seeing a bend that was not asked about (8 where only all bends together are seen);
 * - 10 for passes left over.
 */
export function worthOf(question: CheckedQuestion, figures: CandidateFigures, runs: number): number {
  const { passes } = question;
  const leaning = Math.min(1, figures.worstLeaning);
  return (
    45 * precisionShare(question, figures) +
    (leaning <= NEGLIGIBLE_LEANING ? 25 : 15 * (1 - leaning)) +
    (5 * Math.min(4, figures.df)) / 4 +
    (5 * Math.min(3, figures.dfPureError)) / 3 +
    bendPoints(question, figures) +
    10 * (1 - runs / passes)
  );
}

/** Chances above this count as sure. */
const SURE = 0.9;

function precisionShare(question: CheckedQuestion, figures: CandidateFigures): number {
  if (question.stake !== "best-setting")
    return Math.min(SURE, askedGroup(question, figures).chance ?? 0) / SURE;
  const halfWidth = figures.prediction?.halfWidthInSigma ?? null;
  return halfWidth === null ? 0 : 1 / (1 + (halfWidth / question.effectInSigma) ** 2);
}

function bendPoints(question: CheckedQuestion, figures: CandidateFigures): number {
  if (quantitiesOf(question.factors).length === 0) return 10;
  return figures.bend === "each" ? 10 : figures.bend === "together" ? 8 : 0;
}
