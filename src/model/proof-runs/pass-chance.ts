import { nonCentralTTail, normalQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { binomialAtMost } from "./binomial.ts";
import type { ProofPlan } from "./proof-plan.ts";

/**
 * The chance that proof runs pass when the recipe is truly so good: the operating characteristic of the rule. `truth` is the true
 * mean for the rule `mean` (in the response's unit), the true share of parts within the limit for `parts` and `share`. Counting is
 * exact (binomial); the other two are for normal scatter (noncentral t with runs − 1 degrees of freedom).
 *
 * Source: NIST/SEMATECH e-Handbook, section 6.2.3 (counting); Owen, A survey of properties and applications of the noncentral
 * t-distribution, Technometrics 10, 1968, 445–478 (sampling by size).
 *
 * Example: a rule that bears no part over the limit among 22 passes a recipe of which 0.872 keep it with chance 0.872²² = 0.049.
 */
export function passChance(plan: ProofPlan, truth: number): number {
  if (!Number.isFinite(truth)) throw modelError(`a true value of ${truth}`, "a finite number");
  if (plan.rule !== "mean" && !(truth >= 0 && truth <= 1))
    throw modelError(`a true share of ${truth}`, "a number from 0 to 1");
  const { criterion, runs } = plan;
  if (criterion.kind === "count") return binomialAtMost(criterion.mostOver, runs, 1 - truth);
  if (plan.rule === "share" && (truth === 0 || truth === 1)) return truth;
  return distancePassChance(
    runs,
    criterion.standardDeviations,
    plan.rule === "share" ? normalQuantile(truth) : insideBy(plan, truth),
  );
}

/** How many standard deviations of a part the true mean lies inside the limit; below 0 outside. */
export function insideBy(
  plan: Pick<ProofPlan, "limit" | "side" | "log"> & { readonly sigma: number | null },
  mean: number,
): number {
  const { limit, side, log, sigma } = plan;
  const inside = (log ? Math.log(limit / mean) : limit - mean) / (sigma ?? 1);
  return side === "at-most" ? inside : -inside;
}

/**
 * P((limit − mean) / s ≥ k) for parts whose true mean lies `inside` standard deviations inside the limit: √n times it is
 * noncentral t with n − 1 degrees of freedom and noncentrality √n × inside.
 */
export function distancePassChance(runs: number, k: number, inside: number): number {
  const root = Math.sqrt(runs);
  return nonCentralTTail(k * root, runs - 1, inside * root);
}
