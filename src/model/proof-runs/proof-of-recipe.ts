import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { Recipe } from "../recipe.ts";
import { proofPlan } from "./plan-proof.ts";
import type { NoProofPlan, ProofOfShare, ProofPlan } from "./proof-plan.ts";

export interface ProofOfRecipeOptions {
  /** By which figure; chosen from what the recipe promises where it is left out. */
  readonly rule?: ProofPlan["rule"];
  readonly failGood?: number;
  readonly passBad?: number;
  readonly atMost?: number;
  readonly goodShare?: number;
  readonly badShare?: number;
}

/**
 * The proof runs of a recipe that a fit gave. A recipe for the mean is proved by the mean: good is the response that the fit
 * foretells at the recipe's setting, bad is the limit itself, the scatter is the fit's own. A recipe for the next part is proved
 * by a share of parts, by their size; `rule` asks for another. By a mixed fit each proof part is to be cut on fresh levels of the random sources (a set-up of its own), whose
 * scatter counts. Refused: a recipe without a setting, a fit without scatter.
 *
 * Example: a foretold mean of 0.70 µm, a limit of 0.80 µm and a scatter of 0.05 µm need 5 proof runs for 5 % and 5 %.
 */
export function proofOfRecipe(
  recipe: Pick<Recipe, "setting" | "for" | "estimate" | "limit" | "side" | "responseUnit">,
  fit: Pick<Fit, "residualSd" | "logScale" | "noInterval" | "evaluator">,
  options: ProofOfRecipeOptions = {},
): ProofPlan | NoProofPlan {
  if (recipe.setting === null)
    throw modelError(
      "a recipe without a setting",
      "a setting that keeps the limit",
      "There is nothing to prove yet.",
    );
  const { rule = recipe.for === "mean" ? "mean" : "share", goodShare, badShare, ...chances } = options;
  const { limit, side, responseUnit: unit } = recipe;
  const evaluator = fit.evaluator?.();
  const fresh = evaluator?.fresh ?? [];
  const scatter = evaluator?.dfVaries === true ? evaluator.sd : fit.residualSd;
  const common = { limit, side, unit, log: fit.logScale, fresh, ...chances };
  if (rule === "mean") {
    if (scatter === null || !(scatter > 0))
      throw modelError(
        "a fit without scatter",
        "a scatter from run to run",
        `${fit.noInterval || "The runs are met exactly"}: count parts instead (rule "parts").`,
      );
    return proofPlan({ rule, ...common, goodMean: recipe.estimate, sigma: scatter });
  }
  const shares: ProofOfShare = {
    rule,
    ...common,
    ...(goodShare === undefined ? {} : { goodShare }),
    ...(badShare === undefined ? {} : { badShare }),
  };
  return proofPlan(shares);
}
