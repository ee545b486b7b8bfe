import type { Run } from "../../trial/index.ts";
import type { Layout } from "../layout.ts";
import { quantitiesOf } from "../levels.ts";
import type { Answers, CandidateFigures, GroupFigures } from "./choice.ts";
import { setUpsOf } from "./cost.ts";
import { FEWEST_DF, WANTED_CHANCE, type CheckedQuestion } from "./question.ts";

/** A share of a hidden product below this is rounding of settings to the machine's steps, not a reservation. */
export const NEGLIGIBLE_LEANING = 0.05;

/** Chances above this count as sure. */
const SURE = 0.9;

/** The group of effects that a question is about. */
export function askedGroup(
  { stake }: Pick<CheckedQuestion, "stake">,
  figures: CandidateFigures,
): GroupFigures {
  if (stake === "how-they-combine") return figures.products;
  if (stake === "how-curved") return figures.squares;
  return figures.mainEffects;
}

/** Standard error of what is asked, for σ = 1: of the least well known effect, or of a prediction (for the best setting). */
export function askedError(question: CheckedQuestion, figures: CandidateFigures): number | null {
  if (question.stake !== "best-setting") return askedGroup(question, figures).standardErrorInSigma;
  return figures.prediction && Math.sqrt(figures.prediction.averageVariance);
}

/** Whether some runs answer the question; with a reservation where little or nothing is left for error, or a hidden product moves the answer. */
export function answersOf(question: CheckedQuestion, figures: CandidateFigures): Answers {
  const group = askedGroup(question, figures);
  const { mainEffects } = figures;
  if (group.of === 0 || group.told < group.of || mainEffects.told < mainEffects.of) return "no";
  if (question.stake === "best-setting" && figures.prediction === null) return "no";
  return group.df >= FEWEST_DF && figures.worstLeaning <= NEGLIGIBLE_LEANING ? "yes" : "with-reservation";
}

/** Whether the effect worth knowing is seen with chance 0.8; for the best setting, whether predictions are narrower than it. */
export function seesOf(question: CheckedQuestion, figures: CandidateFigures): boolean {
  if (question.stake !== "best-setting") return (askedGroup(question, figures).chance ?? 0) >= WANTED_CHANCE;
  const halfWidth = figures.prediction?.halfWidthInSigma ?? null;
  return halfWidth !== null && halfWidth <= question.effectInSigma;
}

/**
 * What a candidate is worth for the question, 0 to 100. Points, each rising with the figure it stands on, so that a candidate
 * that another beats in something and that beats it in nothing never comes before it:
 *
 * - 45 for the chance to see the effect worth knowing, full from 0.9 on (for the best setting: how narrow predictions are);
 * - 25 for answers that no left-out product of two factors moves; 15 less the worst share of one where it does;
 * - 10 for degrees of freedom for error (full at 4), half of it for those from replicates (full at 3);
 * - 10 for seeing a bend that was not asked about (8 where only all bends together are seen);
 * - 2 less for a layout found by search: a standard one is balanced, bears the loss of a run better and is easier to check;
 * - 10 for passes left over, half of it for set-ups of hard factors saved where there are such factors.
 */
export function worthOf(
  question: CheckedQuestion,
  figures: CandidateFigures,
  { kind, runs }: Pick<Layout, "kind" | "runs">,
): number {
  const leaning = Math.min(1, figures.worstLeaning);
  return (
    45 * precisionShare(question, figures) +
    (leaning <= NEGLIGIBLE_LEANING ? 25 : 15 * (1 - leaning)) +
    (5 * Math.min(4, figures.df)) / 4 +
    (5 * Math.min(3, figures.dfPureError)) / 3 +
    bendPoints(question, figures) +
    costPoints(question, runs) -
    (kind === "optimal" ? 2 : 0) +
    // Parts ties: what is more than enough is still better than enough.
    0.01 * (askedGroup(question, figures).chance ?? 0) +
    0.001 * (1 - 1 / (1 + figures.df)) +
    0.001 * (1 - 1 / (1 + figures.dfPureError))
  );
}

function precisionShare(question: CheckedQuestion, figures: CandidateFigures): number {
  if (question.stake !== "best-setting")
    return Math.min(SURE, askedGroup(question, figures).chance ?? 0) / SURE;
  const halfWidth = figures.prediction?.halfWidthInSigma ?? null;
  return halfWidth === null ? 0 : 1 / (1 + (halfWidth / question.effectInSigma) ** 2);
}

function bendPoints({ factors }: CheckedQuestion, { bend }: CandidateFigures): number {
  if (quantitiesOf(factors).length === 0) return 10;
  return bend === "each" ? 10 : bend === "together" ? 8 : 0;
}

function costPoints({ factors, passes }: CheckedQuestion, runs: readonly Run[]): number {
  const saved = 1 - runs.length / passes;
  if (!factors.some(({ change }) => change === "hard")) return 10 * saved;
  return 5 * saved + 5 * (1 - setUpsOf(factors, runs) / passes);
}

const ORDER: Readonly<Record<Answers, number>> = { yes: 0, "with-reservation": 1, no: 2 };

/** Best first: those that answer fully, then those that see the effect worth knowing, then by worth, then the fewest runs. */
export function compareAssessed(
  one: {
    readonly answers: Answers;
    readonly sees: boolean;
    readonly worth: number;
    readonly proposal: { readonly runs: number; readonly id: string };
  },
  other: typeof one,
): number {
  return (
    ORDER[one.answers] - ORDER[other.answers] ||
    Number(other.sees) - Number(one.sees) ||
    other.worth - one.worth ||
    one.proposal.runs - other.proposal.runs ||
    (one.proposal.id < other.proposal.id ? -1 : 1)
  );
}
