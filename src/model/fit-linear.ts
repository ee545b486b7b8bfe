import type { Trial } from "../trial/index.ts";
import type { Fit } from "./fit.ts";
import { fitInput } from "./fit-options.ts";
import type { FitOptions } from "./fit-options.ts";
import type { Observations } from "./observations.ts";
import { solvedFit } from "./solved-fit.ts";
import { checkedTerms, termsOf } from "./term-sets.ts";

/**
 * Fits a model that is linear in its coefficients to a trial's readings, or to observations made from a table.
 *
 * Use it for effects in the response's own unit: factorials, surfaces, comparisons, polynomials. Use `fitPowerLaw` where effects are
 * ratios. Repeats are averaged to their run; a run is one row. Blocks, where runs are in several, are fitted at their own levels.
 *
 * Coefficients are in the factors' own units (or coded), categories against their first level, the intercept at the mean of the blocks.
 * Terms that the runs can't tell apart, models with more terms than runs, and runs that leave no scatter are answers: see
 * `inseparable`, `noInterval` and `unreplicated`. Refused: unknown factors, squares of categories, terms given twice, settings or
 * readings that are no finite numbers, each by name.
 *
 * Accuracy: at least 12 digits of coefficients and 9 of standard errors on all linear StRD sets (see `leastSquares`).
 * Sources: Draper and Smith, *Applied Regression Analysis*; Montgomery, *Design and Analysis of Experiments*.
 *
 * Example: feeds 0.1, 0.1, 0.2, 0.2 mm/rev with Ra 0.5, 0.6, 1.0, 1.1 µm give 5 µm per mm/rev (95 % 2.0 to 8.0).
 */
export function fitLinear(source: Trial | Observations, options: FitOptions = {}): Fit {
  const input = fitInput(source, options);
  const { model = "main", terms, throughOrigin = false, log = false, coded = false } = options;
  const { factors } = input.observations;
  const asked = checkedTerms(
    terms ?? termsOf(model, factors),
    factors,
    throughOrigin ? "origin" : "intercept",
  );
  return solvedFit(input, {
    kind: "linear",
    model: terms === undefined ? model : "given",
    terms: asked,
    logarithms: false,
    logScale: log,
    tell: coded ? "coded" : "natural",
    throughOrigin,
    trial: "spec" in source ? source : null,
  });
}
