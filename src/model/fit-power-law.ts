import type { Trial } from "../trial/index.ts";
import type { Fit } from "./fit.ts";
import { fitInput } from "./fit-options.ts";
import type { FitOptions } from "./fit-options.ts";
import type { Observations } from "./observations.ts";
import { solvedFit } from "./solved-fit.ts";
import { checkedTerms, termsOf } from "./term-sets.ts";

/** What a power law may be told. */
export type PowerLawOptions = Omit<FitOptions, "model" | "log" | "throughOrigin">;

/**
 * Fits response = C · feed^a · speed^b · … by least squares on logarithms: the usual law of finish, tool life and forces.
 *
 * Coefficients are exponents (the intercept is ln C); a category multiplies the response, and a product of a category with a quantity
 * lets the exponent differ. `ratio("feed", 0.5)` tells what halving the feed does. Predictions are medians on the response's own scale.
 * Refused: settings and readings that are zero or less, named with their run; otherwise as `fitLinear`.
 *
 * Source: Shaw, *Metal Cutting Principles*; NIST/SEMATECH e-Handbook, section 4.6.2.
 *
 * Example: feeds 0.1, 0.2, 0.4 mm/rev with Ra 0.25, 1, 4 µm give the exponent 2; halving the feed multiplies Ra by 0.25.
 */
export function fitPowerLaw(source: Trial | Observations, options: PowerLawOptions = {}): Fit {
  const input = fitInput(source, { ...options, log: true });
  const { terms, coded = false } = options;
  const { factors } = input.observations;
  const asked = checkedTerms(terms ?? termsOf("power-law", factors), factors, "intercept");
  return solvedFit(input, {
    kind: "power-law",
    model: terms === undefined ? "power-law" : "given",
    terms: asked,
    logarithms: true,
    logScale: true,
    tell: coded ? "coded" : "natural",
    throughOrigin: false,
    trial: "spec" in source ? source : null,
  });
}
