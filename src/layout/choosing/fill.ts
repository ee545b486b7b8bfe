import { assess, isAssessed, type Assessed, type Desk, type Unmade } from "./assess.ts";
import type { Family } from "./families.ts";
import { centrePlaces, proposalOf, runsOf, type Proposal } from "./proposal.ts";
import { FEWEST_DF, WANTED_CHANCE } from "./question.ts";
import { askedError } from "./rank.ts";

/** Replicates beyond this are left to a trial with another question. */
const MOST_REPLICATES = 64;

/** Chances above this count as sure: more replicates would be wasted. */
export const SURE_CHANCE = 0.9;

/**
 * A family filled up to the passes: cut once, as often as it takes to see the effect worth knowing (with chance 0.8, and for
 * sure), or as often as it fits; each with and without the centre runs that it takes.
 */
export function filled(desk: Desk, family: Family): readonly (Assessed | Unmade)[] {
  const { passes } = desk.question;
  const [fewest, most] = family.centre;
  const places = centrePlaces(desk.question.factors);
  const smallestOne = once(desk, family);
  if (smallestOne.runs > passes) return [];
  const base = assess(desk, smallestOne);
  if (!isAssessed(base)) return [base];
  const found = new Map<string, Assessed | Unmade>();
  const fits = Math.min(
    family.replicable ? MOST_REPLICATES : 1,
    Math.floor(passes / runsOf(family, places, 1, fewest)),
  );
  const sure = replicatesFor(desk, family, base, SURE_CHANCE) ?? fits;
  const sees = fewestThatSee(desk, family)?.proposal.replicates ?? 1;
  const counts = [1, sees, ...(base.figures.df < FEWEST_DF ? [2] : []), Math.min(sure, fits)];
  for (const replicates of new Set(counts.filter((count) => count <= fits))) {
    let upTo = most;
    while (upTo > fewest && runsOf(family, places, replicates, upTo) > passes) upTo -= 1;
    // A model that leaves too little for error is saved by a few centre runs.
    const saved = base.figures.df < FEWEST_DF ? [Math.min(fewest + FEWEST_DF - base.figures.df, upTo)] : [];
    for (const centre of new Set([fewest, ...saved, upTo])) {
      const proposal = proposalOf(family, places, {
        replicates,
        centre,
        seed: desk.question.seed,
        hard: anyHard(desk),
      });
      if (proposal.runs <= passes) found.set(proposal.id, assess(desk, proposal));
    }
  }
  return [...found.values()];
}

/** The smallest of a family. */
export function once(desk: Desk, family: Family): Proposal {
  return replicated(desk, family, 1);
}

/** The smallest of a family and what is next to it: a few more centre runs, or every run twice; rising in runs. */
export function smallest(desk: Desk, family: Family): readonly Proposal[] {
  const { factors, seed } = desk.question;
  const [fewest, most] = family.centre;
  return [
    once(desk, family),
    ...Array.from({ length: Math.min(FEWEST_DF, most - fewest) }, (_, more) =>
      proposalOf(family, centrePlaces(factors), {
        replicates: 1,
        centre: fewest + 1 + more,
        seed,
        hard: anyHard(desk),
      }),
    ),
    ...(family.replicable ? [replicated(desk, family, 2)] : []),
  ].sort((one, other) => one.runs - other.runs);
}

/** The fewest replicates of a family that see the effect worth knowing with chance 0.8, without centre runs beyond the fewest; null where none do. */
export function fewestThatSee(desk: Desk, family: Family): Assessed | null {
  const base = assess(desk, once(desk, family));
  if (!isAssessed(base)) return null;
  if (base.sees) return base;
  if (!family.replicable) return null;
  const reckoned = replicatesFor(desk, family, base, WANTED_CHANCE);
  if (reckoned === null) return null;
  // Centre runs are not replicated everywhere, so that the reckoning may fall short by one or two.
  for (let replicates = Math.max(2, reckoned); replicates <= reckoned + 2; replicates += 1) {
    const found = assess(desk, replicated(desk, family, replicates));
    if (isAssessed(found) && found.sees) return found;
  }
  return null;
}

/** A family with so many replicates and the fewest centre runs. */
export function replicated(desk: Desk, family: Family, replicates: number): Proposal {
  const { factors, seed } = desk.question;
  return proposalOf(family, centrePlaces(factors), {
    replicates,
    centre: family.centre[0],
    seed,
    hard: anyHard(desk),
  });
}

function anyHard({ question }: Desk): boolean {
  return question.factors.some(({ change }) => change === "hard");
}

/** Reckoned from one replicate: r replicates divide the variance by r and add r − 1 times its runs to the degrees of freedom. */
function replicatesFor(
  { question, seeing }: Desk,
  family: Family,
  base: Assessed,
  chance: number,
): number | null {
  const error = askedError(question, base.figures);
  if (error === null) return null;
  for (let replicates = 1; replicates <= MOST_REPLICATES; replicates += 1) {
    const df = base.figures.df + (replicates - 1) * family.size;
    if (df < 1) continue;
    const own = error / Math.sqrt(replicates);
    const reached =
      question.stake === "best-setting"
        ? seeing.limit(df) * own <= question.effectInSigma
        : seeing.chance(question.effectInSigma / own, df) >= chance;
    if (reached) return replicates;
  }
  return null;
}
