import { assess, isAssessed, type Assessed, type Desk } from "./assess.ts";
import type { Enough } from "./choice.ts";
import { families } from "./families.ts";
import { fewestThatSee, once } from "./fill.ts";
import { questionTerms } from "./question-terms.ts";
import { NEGLIGIBLE_LEANING } from "./rank.ts";
import { passesToAnswer } from "./shortlist.ts";
import { capital, effectWords, passWords, sizeWords } from "./words.ts";

/** How many passes answer the question, and how many see the effect that is worth knowing. */
export function enoughFor(desk: Desk, fitting: readonly Assessed[]): Enough {
  const { question } = desk;
  const { impossible } = questionTerms(question.factors, question.stake);
  if (impossible !== null)
    return { toAnswer: null, toAnswerFully: null, toSee: null, sentences: [impossible] };
  const toAnswer = passesToAnswer(desk, "with-reservation");
  const toAnswerFully = passesToAnswer(desk, "yes");
  const toSee = passesToSee(desk, fitting);
  return { toAnswer, toAnswerFully, toSee, sentences: sentencesOf(desk, { toAnswer, toAnswerFully, toSee }) };
}

/**
 * The fewest passes with which some layout answers fully and sees the effect with chance 0.8. The choice puts such a layout
 * first wherever one fits, so that with so many passes it is what is recommended.
 */
function passesToSee(desk: Desk, fitting: readonly Assessed[]): number | null {
  const { question } = desk;
  let best = fitting
    .filter(({ answers, sees }) => answers === "yes" && sees)
    .reduce((least, { proposal }) => Math.min(least, proposal.runs), Number.POSITIVE_INFINITY);
  for (const family of families(question, question.passes)) {
    if (family.size >= best) break;
    const base = assess(desk, once(desk, family));
    if (!isAssessed(base) || base.answers === "no" || base.figures.worstLeaning > NEGLIGIBLE_LEANING)
      continue;
    const found = fewestThatSee(desk, family);
    if (found?.answers === "yes") best = Math.min(best, found.proposal.runs);
  }
  return Number.isFinite(best) ? best : null;
}

function sentencesOf(
  desk: Desk,
  { toAnswer, toAnswerFully, toSee }: Omit<Enough, "sentences">,
): readonly string[] {
  const { passes } = desk.question;
  const sentences: string[] = [];
  if (toAnswer === null) {
    return [
      "No layout that this tool lays out answers the question for so many factors: hold some still, or ask which matter first.",
    ];
  }
  if (toAnswer > passes) {
    const fully = toAnswerFully !== null && toAnswerFully > toAnswer;
    sentences.push(
      `${passWords(passes)} ${passes === 1 ? "is" : "are"} too few for this question: ${passWords(toAnswer)} would do${fully ? ` with a reservation, ${toAnswerFully} without` : ""}.`,
    );
  } else if (toAnswerFully !== null && toAnswerFully > passes) {
    sentences.push(`${passWords(toAnswerFully)} would answer without a reservation.`);
  }
  if (toSee !== null && toSee > passes) {
    sentences.push(
      desk.question.stake === "best-setting"
        ? `For predictions good to ± ${sizeWords(desk.question, desk.question.effectInSigma)} on average, ${passWords(toSee)} would do.`
        : `To see ${effectWords(desk.question)} with chance 0.8, ${passWords(toSee)} would do.`,
    );
  }
  if (toSee === null && toAnswerFully !== null) {
    sentences.push(
      `${capital(effectWords(desk.question))} is too small beside the scatter: no layout here sees it with chance 0.8. Lessen the scatter, read each surface more than once, or widen the ranges.`,
    );
  }
  return sentences;
}
