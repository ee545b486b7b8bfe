import type { Remark } from "./remark.ts";

const drawn = "of 10,000 simulated trials of 16 runs with nothing wrong";

const proof =
  "By the rule of the proof runs as it was written down before they were cut, and by nothing else (NIST/SEMATECH e-Handbook, 6.2.3; Owen 1968, Technometrics 10, 445–478).";

const methods: Readonly<Record<string, string>> = {
  "added-after-looking":
    "By the journal of the trial: runs that were added after readings had been looked at. Nothing is estimated.",
  "proof-passed": proof,
  "proof-failed": proof,
  "proof-open": proof,
  "outlying-run": `The externally studentised residual, by t, times the number of runs (Bonferroni; Cook and Weisberg 1982, Residuals and Influence in Regression, 2.2.2). It fires in 5.2 % ${drawn}.`,
  "curvature-left-over":
    "Corners against centre runs by t where there are centre runs, else lack of fit against replicates by F. It fires in 5.0 % of 10,000 simulated trials with nothing wrong.",
  "scatter-grows-with-size":
    "Sizes of residuals against fitted values, both as logarithms, by t, upward only. It fires in 0.7 % of 10,000 simulated trials with even scatter.",
  "levels-scatter-unlike":
    "The ratio of the levels' residual mean squares (Bartlett 1937, Proceedings of the Royal Society A 160, 268–282), judged against 399 drawn responses of even scatter at the same settings (Barnard 1963), times the number of categories looked at. It fires in 4.7 % of 10,000 simulated trials of 16 runs with nothing wrong, in 6.3 % of those of 8 runs: a plan is always judged by the same draws, whose limit is off by about a point of a hundred.",
  "prediction-outside": "The settings asked about against the lowest and highest that were cut.",
  "flat-at-low-end":
    "The local exponent between the two lowest settings against that above them, each with its 95 % interval: raised only where it is clearly the smaller and its interval holds zero. It fires in none of 10,000 simulated trials that follow a power law with the exponent 1.4.",
  "below-ideal":
    "Readings against the exact finish that the nose radius leaves at that feed, by integrating the cusp (Shaw, Metal Cutting Principles).",
  "trace-along-lay":
    "The direction that the trial states against ISO 21920-3 and ASME B46.1, which ask for across the lay.",
  "cutoff-too-short":
    "The cut-off that the trial states against the feed mark, by the spacing table of ISO 4288 and ASME B46.1.",
  "moved-together":
    "The rank of the runs' main effects: a set of factors without rank of its own can't be told apart by any analysis. Nothing is left to chance.",
  "nearly-together":
    "How many times wider an effect's interval is than it would be were the other factors uncorrelated with it (the root of the variance inflation; Draper and Smith, Applied Regression Analysis). Raised from three times the width.",
  "order-follows-factor":
    "How many times wider a factor's interval becomes where a steady drift is allowed for. Raised from twice the width.",
  "whole-plots-as-runs":
    "By the plan: runs that share a set-up of a factor that is hard to change, and a fit that takes no account of it.",
  "repeats-as-replicates":
    "The chance that a shuffled order of n settings, k runs each, would put all runs of a setting side by side: n!·k!ⁿ/(nk)!.",
  "no-replicates": "By the runs as they were cut: no setting stands twice.",
  "one-reading-a-run": "By the readings: one a run.",
  "runs-not-read": "By the plan and the readings.",
  "trend-along-order": `The place in cutting order, and the minutes of cut where they are known, added to the model as one more term, by t, times the number of terms tried. It fires in 4.8 % ${drawn}.`,
  "left-along-factor": `The square of each quantity (or the quantity itself, where the model lacks it) added to the model, by t, and the levels of a category that it lacks, by F, times the number of factors tried. It fires in 5.1 % ${drawn}.`,
  "bends-against-fitted": `Tukey's one degree of freedom (1949, Biometrics 5, 232–242). It fires in 4.7 % ${drawn}.`,
  "influential-run": `The largest of Cook's distances (Cook 1977, Technometrics 19, 15–18), judged against those of 199 drawn responses at the same settings (Barnard 1963, Journal of the Royal Statistical Society B 25, 294). It fires in 4.5 % ${drawn}.`,
};

/**
 * How a kind of remark is judged, its source, and how often it fires where nothing is wrong, for the small print behind it. Empty for a kind that has none.
 * Example: `remarkMethod({ kind: "bends-against-fitted" })` begins "Tukey's one degree of freedom".
 */
export function remarkMethod({ kind }: Pick<Remark, "kind">): string {
  return methods[kind] ?? "";
}
