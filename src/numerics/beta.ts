import betainc from "@stdlib/math-base-special-betainc";
import gammaln from "@stdlib/math-base-special-gammaln";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { solveProbability } from "./solve-probability.ts";

/** P(B ≤ x) of the beta distribution with shapes a and b: the regularised incomplete beta function. Relative accuracy about 1e-13 in the lower tail. */
export function betaCdf(x: number, a: number, b: number): number {
  requireBeta(x, a, b);
  return x <= 0 ? 0 : x >= 1 ? 1 : betainc(x, a, b, true, false);
}

/** P(B > x), computed directly. */
export function betaTail(x: number, a: number, b: number): number {
  requireBeta(x, a, b);
  return x <= 0 ? 1 : x >= 1 ? 0 : betainc(x, a, b, true, true);
}

/**
 * The x with P(B ≤ x) = probability, as for the bounds of a share (Clopper and Pearson 1934).
 * Example: `betaQuantile(0.975, 3, 8)` is 0.5560955, the upper end of the 95 % interval for a share of which 2 in 10 were seen.
 */
export function betaQuantile(probability: number, a: number, b: number): number {
  requireProbability("probability", probability);
  requireBeta(0.5, a, b);
  const constant = gammaln(a + b) - gammaln(a) - gammaln(b);
  // In odds = x/(1 − x), which run over (0, ∞) as the solver wants; small x and small 1 − x both keep their digits.
  const odds = solveProbability({
    lower: probability,
    upper: 1 - probability,
    lowerOf: (o) =>
      o < 1 ? betainc(o / (1 + o), a, b, true, false) : betainc(1 / (1 + o), b, a, true, true),
    upperOf: (o) =>
      o < 1 ? betainc(o / (1 + o), a, b, true, true) : betainc(1 / (1 + o), b, a, true, false),
    densityOf: (o) => Math.exp(constant + (a - 1) * Math.log(o) - (a + b) * Math.log1p(o)),
    start: a / b,
  });
  return odds / (1 + odds);
}

function requireBeta(x: number, a: number, b: number): void {
  requireNumber("x", x);
  requirePositive("a", a);
  requirePositive("b", b);
}
