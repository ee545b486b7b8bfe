import { proofPlan, termsOf, type ProofAsked, type ProofPlan } from "../../model/index.ts";
import { responseNamed, type AddedRuns, type TrialSpec } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { plannedLevels } from "./cut.ts";
import type { Cut, Wanted } from "./growth.ts";
import { readHow, type How, type HowBy } from "./how.ts";
import { completed } from "./replicate.ts";

/** Proof runs of a recipe: so many at its setting, with the rule by which they pass or fail. */
export function wantedByProof(cut: Cut, how: HowBy<"proof">): Wanted & { readonly proof: ProofPlan } {
  const at = completed(cut.factors, how.at);
  const plan = proofPlan(askedOf(cut.spec, how));
  if (plan.outcome === "none") throw new LayoutError(`grow by proof: ${plan.reason}`);
  return {
    runs: Array.from({ length: plan.runs }, () => ({ role: "proof" as const, settings: at })),
    notes: ["The rule is decided before the first proof part is cut, and is not stretched afterwards."],
    terms:
      how.terms ??
      termsOf(
        "main",
        cut.factors.filter((factor) => plannedLevels(factor, cut.asCut).length > 1),
      ),
    brings: [plan.ruleText, plan.chancesText, plan.why],
    proof: plan,
  };
}

/** What is proven, with limit, side and response written down, so that no later change of the trial moves the rule. */
export function settledProof(cut: Cut, how: HowBy<"proof">): HowBy<"proof"> {
  const { limit, side } = askedOf(cut.spec, how);
  const response = how.response ?? cut.spec?.responses[0]?.name;
  return { ...how, limit, side, ...(response === undefined ? {} : { response }) };
}

/** The rule by which added proof runs pass or fail, and the response that it is about. */
export interface ProofRule {
  readonly plan: ProofPlan;
  /** Name of the response. */
  readonly response: string;
}

/**
 * The rule that was decided when proof runs were added to a trial, as the journal keeps it.
 *
 * Use it when their readings are in: `proofVerdict(rule.plan, values)` says pass or fail. Null where the runs were added in
 * another way. Refuses, with a `LayoutError`, options that are no rule.
 *
 * Example: of runs 9 to 30, added by "proof" with the rule "parts" and the limit 0.8 µm: 22 runs, 1 of which may be over.
 */
export function proofRuleOf(spec: TrialSpec, { how: kept }: Pick<AddedRuns, "how">): ProofRule | null {
  if (kept?.by !== "proof") return null;
  const how: How = readHow({ ...kept.options, by: "proof" });
  if (how.by !== "proof") return null;
  const plan = proofPlan(askedOf(spec, how));
  const response = how.response ?? spec.responses[0]?.name;
  return plan.outcome === "none" || response === undefined ? null : { plan, response };
}

/** The question of the proof, limit and side from the trial's response where they are not given. */
function askedOf(spec: TrialSpec | null, how: HowBy<"proof">): ProofAsked {
  const response =
    spec === null
      ? undefined
      : how.response === undefined
        ? spec.responses[0]
        : responseNamed(spec, how.response);
  const { limit = response?.limit, sigma = how.sigma, goodMean, badMean, goodShare, badShare, rule } = how;
  const side =
    how.side ??
    (response?.aim === "smaller" ? "at-most" : response?.aim === "larger" ? "at-least" : undefined);
  if (limit === undefined)
    throw new LayoutError(
      'grow.limit: no limit is stated. Give "limit", or state it in the trial\'s response.',
    );
  if (side === undefined)
    throw new LayoutError('grow.side: no side of the limit is stated. Give "side": "at-most" or "at-least".');
  const { log, failGood, passBad, atMost } = how;
  const common = { limit, side, log, failGood, passBad, atMost, unit: response?.unit ?? "" };
  if (rule !== "mean") return { rule, ...common, goodShare, badShare };
  if (goodMean === undefined || sigma === undefined) {
    throw new LayoutError(
      'grow by proof: the rule "mean" needs "goodMean", the true mean of a recipe that should pass (what the fit foretells), and "sigma", the scatter from part to part. To prove a share of parts take "rule": "share" or "parts".',
    );
  }
  return { rule, ...common, goodMean, sigma, ...(badMean === undefined ? {} : { badMean }) };
}
