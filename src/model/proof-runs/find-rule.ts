import { nonCentralTCdf, nonCentralTQuantile, nonCentralTTail } from "../../numerics/index.ts";
import { binomialAbove, binomialAtMost } from "./binomial.ts";
import type { ProofCriterion } from "./proof-plan.ts";

export interface FoundRule {
  readonly runs: number;
  readonly criterion: ProofCriterion;
  readonly failGood: number;
  readonly passBad: number;
}

export interface Chances {
  readonly failGood: number;
  readonly passBad: number;
  readonly atMost: number;
}

/** Decimal places of the distance that a rule states. */
export const RULE_DIGITS = 4;
const FARTHEST = 300;

/** What a search came to: the rule of fewest runs, or what the largest number would give. */
export type Search =
  { readonly found: FoundRule } | { readonly found: null; readonly nearest: FoundRule | null };

/**
 * The fewest parts, and how many of them may pass the limit, so that both chances are kept. With more parts over the limit
 * allowed a bad recipe passes more often, so for each number of parts the most that is allowed is tried.
 */
export function fewestParts(goodShare: number, badShare: number, wanted: Chances): Search {
  let nearest: FoundRule | null = null;
  for (let runs = 1; runs <= wanted.atMost; runs += 1) {
    let mostOver = -1;
    while (mostOver + 1 < runs && binomialAtMost(mostOver + 1, runs, 1 - badShare) <= wanted.passBad)
      mostOver += 1;
    if (mostOver < 0) continue;
    const rule: FoundRule = {
      runs,
      criterion: { kind: "count", mostOver },
      failGood: binomialAbove(mostOver, runs, 1 - goodShare),
      passBad: binomialAtMost(mostOver, runs, 1 - badShare),
    };
    if (rule.failGood <= wanted.failGood) return { found: rule };
    if (nearest === null || rule.failGood < nearest.failGood) nearest = rule;
  }
  return { found: null, nearest };
}

/**
 * The fewest parts, and how many of their own standard deviations the mean must lie inside the limit. The distance is set so
 * that a bad recipe passes with the chance asked (rounded up to the digits that are written down); what is left decides how many
 * parts a good one needs.
 */
export function fewestByDistance(goodInside: number, badInside: number, wanted: Chances): Search {
  // Beyond a few hundred standard deviations nothing fails, and the integrals need not be asked.
  const [good, bad] = [goodInside, badInside].map((inside) =>
    Math.max(-FARTHEST, Math.min(FARTHEST, inside)),
  );
  const at = (runs: number): FoundRule => {
    const root = Math.sqrt(runs);
    const exact = nonCentralTQuantile(1 - wanted.passBad, runs - 1, bad * root) / root;
    // Up to the digits that are written down, so that the written rule is the rule.
    const standardDeviations = Math.ceil(exact * 10 ** RULE_DIGITS) / 10 ** RULE_DIGITS;
    return {
      runs,
      criterion: { kind: "distance", standardDeviations },
      failGood: nonCentralTCdf(standardDeviations * root, runs - 1, good * root),
      passBad: nonCentralTTail(standardDeviations * root, runs - 1, bad * root),
    };
  };
  const last = at(wanted.atMost);
  if (last.failGood > wanted.failGood) return { found: null, nearest: last };
  // The chance to fail a good recipe falls with every further part: halve the interval.
  let [low, high] = [2, wanted.atMost];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (at(middle).failGood <= wanted.failGood) high = middle;
    else low = middle + 1;
  }
  return { found: at(low) };
}
