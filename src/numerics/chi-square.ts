import gammaln from "@stdlib/math-base-special-gammaln";
import { requireFinite } from "./error.ts";
import { lowerGamma, upperGamma } from "./incomplete-gamma.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { solveProbability } from "./solve-probability.ts";

/**
 * P(χ² > x) with df degrees of freedom (fractions allowed), by the upper incomplete gamma function: relative accuracy about 1e-13 down to 1e-300.
 * Example: `chiSquareTail(7.814728, 3)` is 0.05.
 */
export function chiSquareTail(x: number, df: number): number {
  requireNumber("x", x);
  requireDf(df);
  if (x <= 0) return 1;
  return x === Infinity ? 0 : upperGamma(df / 2, x / 2);
}

/** P(χ² ≤ x), with relative accuracy in the lower tail too. */
export function chiSquareCdf(x: number, df: number): number {
  requireNumber("x", x);
  requireDf(df);
  if (x <= 0) return 0;
  return x === Infinity ? 1 : lowerGamma(df / 2, x / 2);
}

/** The x with P(χ² ≤ x) = probability. Example: `chiSquareQuantile(0.95, 3)` is 7.814728. */
export function chiSquareQuantile(probability: number, df: number): number {
  requireProbability("probability", probability);
  requireDf(df);
  return quantile(probability, 1 - probability, df);
}

/** The x with P(χ² > x) = tail: keeps the digits of a small tail. */
export function chiSquareUpperQuantile(tail: number, df: number): number {
  requireProbability("tail", tail);
  requireDf(df);
  return quantile(1 - tail, tail, df);
}

function requireDf(df: number): void {
  requirePositive("df", df);
  requireFinite("df", df);
}

function quantile(lower: number, upper: number, df: number): number {
  const shape = df / 2;
  const constant = -gammaln(shape) - shape * Math.LN2;
  return solveProbability({
    lower,
    upper,
    lowerOf: (x) => lowerGamma(shape, x / 2),
    upperOf: (x) => upperGamma(shape, x / 2),
    densityOf: (x) => Math.exp(constant + (shape - 1) * Math.log(x) - x / 2),
    start: df,
  });
}
