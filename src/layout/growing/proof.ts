import { proofPlan, termsOf, type ProofAsked, type ProofPlan } from "../../model/index.ts";
import { responseNamed } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { plannedLevels } from "./cut.ts";
import type { Cut, Wanted } from "./growth.ts";
import type { HowBy } from "./how.ts";
import { completed } from "./replicate.ts";

/** Proof runs of a recipe: so many at its setting, with the rule by which they pass or fail. */
export function wantedByProof(cut: Cut, how: HowBy<"proof">): Wanted & { readonly proof: ProofPlan } {
  const at = completed(cut.factors, how.at);
  const plan = proofPlan(askedOf(cut, how));
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

/** The question of the proof, limit and side from the trial's response where they are not given. */
function askedOf(cut: Cut, how: HowBy<"proof">): ProofAsked {
  const response =
    cut.spec === null
      ? undefined
      : how.response === undefined
        ? cut.spec.responses[0]
        : responseNamed(cut.spec, how.response);
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
