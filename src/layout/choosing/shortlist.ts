import { assess, forbidden, isAssessed, type Assessed, type Desk, type Unmade } from "./assess.ts";
import { families, searchedThatAnswers } from "./families.ts";
import { filled, smallest } from "./fill.ts";
import type { Answers } from "./choice.ts";
import { questionTerms } from "./question-terms.ts";
import { askedError, compareAssessed } from "./rank.ts";

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
  for (const family of families(question, question.passes)) {
    for (const found of filled(desk, family)) {
      const reason = isAssessed(found) ? forbidden(desk, found) : found.reason;
      if (reason === null && isAssessed(found)) fitting.push(found);
      else refused.push({ proposal: found.proposal, reason: reason ?? "" });
    }
  }
  const standard = fitting.filter(({ layout }) => layout.kind !== "optimal");
  const worthShowing = fitting.filter(
    (one) => one.layout.kind !== "optimal" || !standard.some((other) => doesAsWell(desk, other, one)),
  );
  worthShowing.sort(compareAssessed);
  return { fitting: shown(worthShowing), refused };
}

/** A search that finds nothing better than a standard layout is not worth a line. */
function doesAsWell({ question }: Desk, standard: Assessed, searched: Assessed): boolean {
  const [one, other] = [standard.figures, searched.figures];
  const [mine, theirs] = [askedError(question, one), askedError(question, other)];
  return (
    standard.answers === searched.answers &&
    standard.proposal.runs <= searched.proposal.runs &&
    mine !== null &&
    (theirs === null || mine <= 1.001 * theirs) &&
    one.worstLeaning <= other.worstLeaning + 1e-9 &&
    one.df >= other.df
  );
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

/** So many passes are enough for some layout to answer so well; null where no layout here does. */
export function passesToAnswer(desk: Desk, wanted: Exclude<Answers, "no">): number | null {
  const { question } = desk;
  const { impossible } = questionTerms(question.factors, question.stake);
  if (impossible !== null) return null;
  let best = searchedThatAnswers(question, wanted) ?? Number.POSITIVE_INFINITY;
  for (const family of families(question, 0)) {
    // Families rise in size, so that nothing smaller follows.
    if (family.size >= best) break;
    for (const proposal of smallest(desk, family)) {
      if (proposal.runs >= best) break;
      const found = assess(desk, proposal);
      if (isAssessed(found) && (found.answers === "yes" || found.answers === wanted)) best = proposal.runs;
    }
  }
  return Number.isFinite(best) ? best : null;
}
