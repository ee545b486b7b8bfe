import { formatNumber } from "../../units/index.ts";
import type { ProofRule } from "../proof-runs/proof-plan.ts";
import type { JointRecipe } from "./joint-recipe.ts";
import type { LimitFor } from "./response-limit.ts";

const bounds: Readonly<Record<LimitFor, string>> = {
  mean: "For the mean: Student's t at the settings' own leverage (Draper and Smith, Applied Regression Analysis).",
  share:
    "For a share of parts: the one-sided tolerance bound by noncentral t (Odeh and Owen 1980, Tables for Normal Tolerance Limits; Krishnamoorthy and Mathew 2009, Statistical Tolerance Regions, ch. 3).",
  next: "For each of the next parts: a one-sided prediction bound that holds for all of them together, with Student's t for one part (Draper and Smith, Applied Regression Analysis) and the equicorrelated multivariate t for several (Dunnett and Sobel 1955; Hahn 1970).",
};

/**
 * How a recipe was found and by which published methods, a sentence each, for the small print beside it: the bound of each kind of promise that it makes, the search,
 * and what picking the best of many settings does to the assurance.
 * Example: `recipeMethods(recipe)[0]` begins "For a share of parts: the one-sided tolerance bound by noncentral t".
 */
export function recipeMethods({
  limits,
  search,
  outcome,
}: Pick<JointRecipe, "limits" | "search" | "outcome">): readonly string[] {
  const kinds = [...new Set(limits.map((limit) => limit.for))];
  const settings = `${search.settings.toLocaleString("en")} settings of ${search.quantities.map((name, k) => `${name} (steps of ${formatNumber(search.steps[k])})`).join(", ")}`;
  return [
    ...kinds.map((kind) => bounds[kind]),
    ...(limits.length > 1 ? ["Limits together: Bonferroni, whatever ties the responses."] : []),
    outcome === "none"
      ? `${settings}, within what was cut, were looked at.`
      : search.exact
        ? `${settings}, on the machine's increments and within what was cut, were searched; none of them does better.`
        : `The search among ${settings}, on the machine's increments and within what was cut, ended where no setting near does better.`,
    ...(outcome === "none"
      ? []
      : [
          "The assurance is that of the settings by themselves. Because luck helps to pick the best of many, it was kept in 94.1 to 94.9 % of simulated trials where 95 % was asked, on 8 to 32 runs: the proof runs are for that.",
        ]),
  ];
}

/** How the next passes were picked and what their gain supposes, for the small print. */
export const nextPassesMethod =
  "Passes are taken one after another, each the one that leaves the least variance at the recipe's settings, from corners, middles and the recipe itself (rank-one updates of the information: Fedorov 1972, Theory of Optimal Experiments). What stopping gives away is the recipe at its bounds against the recipe were model and scatter known.";

/** How the kept ground was found, for the small print. */
export const keptRegionMethod =
  "The kept ground is every setting on the machine's increments, within what was cut, where each of m limits holds with an assurance of 1 − (1 − assurance)/m, so that all hold together (Bonferroni). The assurance belongs to each setting, not to the border as a whole.";

/** How a rule of proof runs was found, for the small print. */
export function proofMethod(rule: ProofRule): string {
  return rule === "parts"
    ? "Parts counted by the binomial distribution; nothing is supposed about the scatter (NIST/SEMATECH e-Handbook, 6.2.3)."
    : `${rule === "mean" ? "The mean against its own standard deviation" : "The mean against the standard deviation of single parts"}, by noncentral t (Owen 1968, Technometrics 10, 445–478; NIST/SEMATECH e-Handbook, 6.2.3); the scatter is taken to be about normal.`;
}
