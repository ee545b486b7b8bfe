import { assess, forbidden, isAssessed, type Assessed, type Desk, type Unmade } from "./assess.ts";
import { families } from "./families.ts";
import { filled, smallest } from "./fill.ts";
import type { Answers } from "./choice.ts";
import { questionTerms } from "./question-terms.ts";
import { compareAssessed } from "./rank.ts";

/** Every layout that fits the passes, best first, and those that can't be cut, with the reason. */
export interface Shortlist {
  readonly fitting: readonly Assessed[];
  readonly refused: readonly Unmade[];
}

export function shortlist(desk: Desk): Shortlist {
  const { question } = desk;
  if (questionTerms(question.factors, question.stake).impossible !== null)
    return { fitting: [], refused: [] };
  const fitting: Assessed[] = [];
  const refused: Unmade[] = [];
  for (const family of families(question.factors, question.stake, question.passes)) {
    for (const found of filled(desk, family)) {
      const reason = isAssessed(found) ? forbidden(desk, found) : found.reason;
      if (reason === null && isAssessed(found)) fitting.push(found);
      else refused.push({ proposal: found.proposal, reason: reason ?? "" });
    }
  }
  fitting.sort(compareAssessed);
  return { fitting: shown(fitting), refused };
}

/** So many variants of one family that answer the question are shown, and one of each kind that doesn't. */
const MOST_VARIANTS = 2;

function shown(ranked: readonly Assessed[]): readonly Assessed[] {
  const count = new Map<string, number>();
  return ranked.filter(({ proposal, answers }) => {
    const key = answers === "no" ? `no ${proposal.layout.kind}` : proposal.family;
    const before = count.get(key) ?? 0;
    count.set(key, before + 1);
    return before < (answers === "no" ? 1 : MOST_VARIANTS);
  });
}

/** The smallest layout, of any number of passes, that answers so well; null where no layout here does. */
export function smallestThatAnswers(desk: Desk, wanted: Exclude<Answers, "no">): Assessed | null {
  const { question } = desk;
  if (questionTerms(question.factors, question.stake).impossible !== null) return null;
  let best: Assessed | null = null;
  for (const family of families(question.factors, question.stake, question.passes)) {
    // Families rise in size, so that nothing smaller follows.
    if (best && family.size >= best.proposal.runs) break;
    for (const proposal of smallest(desk, family)) {
      if (best && proposal.runs >= best.proposal.runs) break;
      const found = assess(desk, proposal);
      if (isAssessed(found) && (found.answers === "yes" || found.answers === wanted)) best = found;
    }
  }
  return best;
}
