import { sourceWords } from "../source-words.ts";
import { listed } from "../../units/index.ts";
import { parentsWithin } from "../../numerics/index.ts";
import type { MixedInference, RemlFit } from "../../numerics/index.ts";
import { choiceNote, type ChosenFrom } from "../chosen-from.ts";
import type { Observations, ObservedSource } from "../observations.ts";
import { levelsIn } from "./mixed-input.ts";
import type { PlainClaim } from "./mixed-fit.ts";

/** What a reader of a mixed fit should know, in words. */
export function mixedNotes(given: {
  readonly found: RemlFit;
  readonly mixed: MixedInference;
  readonly sources: readonly ObservedSource[];
  readonly observations: Observations;
  readonly claims: readonly PlainClaim[];
  readonly chosenFrom: ChosenFrom | undefined;
}): readonly string[] {
  const { found, sources, observations, claims, chosenFrom } = given;
  const zero = sources.filter((_, k) => found.variances[k] === 0).map(({ name }) => sourceWords(name));
  const few = sources.filter(({ of }) => new Set(of).size < 5);
  return [
    ...(observations.notes ?? []),
    ...(chosenFrom === undefined ? [] : [choiceNote(chosenFrom)]),
    ...worstClaims(claims),
    ...(zero.length === 0
      ? []
      : [
          `The variance of ${listed(zero)} is zero: the readings show no scatter of it beyond what the others explain. It is kept in the fit, so that what varies with ${zero.length === 1 ? "it" : "them"} is still judged on the degrees of freedom that the layout gives.`,
        ]),
    ...(few.length === 0
      ? []
      : [
          `Only ${listed(few.map(({ name, of }) => `${new Set(of).size} levels of ${sourceWords(name)}`))}: how much ${few.length === 1 ? "it scatters" : "they scatter"} is known poorly, as the intervals show.`,
        ]),
    ...(oneWithinAnother(sources)
      ? howOftenHeldNested(sources)
      : howOftenHeld(
          zero.length > 0,
          sources.some(({ of }) => new Set(of).size < 6),
        )),
    ...reused(sources),
    ...(found.converged
      ? []
      : ["The search for the variances did not converge; treat the figures with caution."]),
  ];
}

/** Where intervals are known not to hold as often as they say: the figures of the committed table of coverage, 10,000 drawn split plots each. */
function howOftenHeld(zero: boolean, few: boolean): readonly string[] {
  return [
    ...(zero
      ? [
          "How far to trust 95 % intervals beside a variance of zero: in 10,000 drawn split plots whose set-ups (whole plots) added nothing they held in 97.9 % for the factors that are set up (wider than need be) and in 93.9 % for factors changed from run to run (a little too narrow). Predictions err on the safe side there: where set-ups added a tenth of the scatter or nothing, means at a setting held in 96.9 to 99.5 %, a next run in a set-up of its own in 95.4 to 96.8 %.",
        ]
      : []),
    ...(few
      ? [
          "How far to trust 95 % intervals with so few levels: in 10,000 drawn split plots with 4 set-ups (whole plots) they held in 98.8 % for the factors that are set up (wider than need be) and in 96.1 % for the share of the set-ups, means at a setting in 98.5 % with 8 runs and 96.9 % with 16, a next run in a set-up of its own in 95.7 and 94.2 %.",
        ]
      : []),
  ];
}

/** Set-ups on days and the like; runs and spots are within everything. */
function oneWithinAnother(sources: readonly ObservedSource[]): boolean {
  const own = sources.filter(({ name }) => name !== "run" && name !== "spot");
  return own.some((fine) =>
    own.some((coarse) => fine !== coarse && parentsWithin(levelsIn(fine), levelsIn(coarse)) !== null),
  );
}

/** The same of set-ups within days, by the lines "nested" of the committed table. */
function howOftenHeldNested(sources: readonly ObservedSource[]): readonly string[] {
  if (sources.every(({ of }) => new Set(of).size > 8)) return [];
  return [
    "How far to trust 95 % intervals with one source within another, and few levels: in 10,000 drawn trials each of 2 runs in each of 2 set-ups on each of 3, 4 and 8 days they held in 99.2, 98.1 and 96.0 % for factors changed with the set-up (97.8 % on 4 days that added nothing, where means at a setting held in 96.7 %). Of 3 and 4 days, in 2,000 trials each, shares held in 99.3 and 99.2 % for days, 99.2 and 99.5 % for set-ups and 97.0 and 95.9 % for runs, standard deviations in 99.0 and 98.0 % for days and 98.5 and 98.6 % for set-ups. All these are wider than need be; standard deviations of runs are too narrow, 92.3 and 94.0 %.",
  ];
}

/** One claim a factor, that which plain least squares overstates most. */
function worstClaims(claims: readonly PlainClaim[]): readonly string[] {
  const worst = new Map<string, PlainClaim>();
  const excess = ({ halfWidth, plainHalfWidth }: PlainClaim): number => halfWidth / plainHalfWidth;
  for (const claim of claims) {
    const known = worst.get(claim.factor);
    if (claim.text !== "" && (known === undefined || excess(claim) > excess(known)))
      worst.set(claim.factor, claim);
  }
  return [...worst.values()].map(({ text }) => text);
}

/** Labels that come back under other labels of a coarser source: the same plot on several days, or plots numbered afresh each day? */
function reused(sources: readonly ObservedSource[]): readonly string[] {
  return sources.flatMap((fine) =>
    sources
      .flatMap((coarse) => {
        if (fine === coarse || fine.name === "run") return [];
        const [a, b] = [levelsIn(fine), levelsIn(coarse)];
        if (parentsWithin(a, b) !== null || parentsWithin(b, a) !== null) return [];
        const asNumbered = fine.levels.every((level) => /^\d+$/.test(level)) && coarse.name !== "run";
        return asNumbered && sources.indexOf(fine) > sources.indexOf(coarse)
          ? [
              `${fine.name} ${fine.levels[0]} stands on several levels of ${coarse.name} and was taken for one and the same. If ${fine.name} is numbered afresh on each ${coarse.name}, name ${coarse.name}+${fine.name} in its place.`,
            ]
          : [];
      })
      .slice(0, 1),
  );
}
