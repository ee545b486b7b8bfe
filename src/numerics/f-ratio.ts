import betainc from "@stdlib/math-base-special-betainc";
import gammaln from "@stdlib/math-base-special-gammaln";
import { chiSquareCdf, chiSquareTail, chiSquareUpperQuantile } from "./chi-square.ts";
import { requireFinite } from "./error.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { solveProbability } from "./solve-probability.ts";

/**
 * P(F > f) of the variance ratio with df1 and df2 degrees of freedom (fractions allowed, df2 may be Infinity). The tail is computed directly by the
 * incomplete beta function, never as 1 − cdf: relative accuracy about 1e-13 down to 1e-300.
 * Example: `fTail(4.494, 1, 16)` is 0.05.
 */
export function fTail(f: number, df1: number, df2: number): number {
  requireRatio(f, df1, df2);
  return upperOf(f, df1, df2);
}

/** P(F ≤ f), with relative accuracy in the lower tail too. */
export function fCdf(f: number, df1: number, df2: number): number {
  requireRatio(f, df1, df2);
  return lowerOf(f, df1, df2);
}

/** The f with P(F ≤ f) = probability. Example: `fQuantile(0.95, 3, 12)` is 3.490295. */
export function fQuantile(probability: number, df1: number, df2: number): number {
  requireProbability("probability", probability);
  requireRatio(1, df1, df2);
  return quantile(probability, 1 - probability, df1, df2);
}

/** The f with P(F > f) = tail: keeps the digits of a small tail. */
export function fUpperQuantile(tail: number, df1: number, df2: number): number {
  requireProbability("tail", tail);
  requireRatio(1, df1, df2);
  return quantile(1 - tail, tail, df1, df2);
}

function requireRatio(f: number, df1: number, df2: number): void {
  requireNumber("f", f);
  requirePositive("df1", df1);
  requirePositive("df2", df2);
  requireFinite("df1", df1);
}

function upperOf(f: number, df1: number, df2: number): number {
  if (f <= 0) return 1;
  if (df2 === Infinity) return chiSquareTail(f * df1, df1);
  const ratio = df2 / df1 / f;
  // The smaller of x and 1 − x is passed on, so that neither loses digits.
  return ratio > 1
    ? betainc(1 / (1 + ratio), df1 / 2, df2 / 2, true, true)
    : betainc(ratio / (1 + ratio), df2 / 2, df1 / 2, true, false);
}

function lowerOf(f: number, df1: number, df2: number): number {
  if (f <= 0) return 0;
  if (df2 === Infinity) return chiSquareCdf(f * df1, df1);
  const ratio = df2 / df1 / f;
  return ratio > 1
    ? betainc(1 / (1 + ratio), df1 / 2, df2 / 2, true, false)
    : betainc(ratio / (1 + ratio), df2 / 2, df1 / 2, true, true);
}

function quantile(lower: number, upper: number, df1: number, df2: number): number {
  if (df2 === Infinity) return chiSquareUpperQuantile(upper, df1) / df1;
  const a = df1 / 2;
  const b = df2 / 2;
  const constant = gammaln(a + b) - gammaln(a) - gammaln(b) + a * Math.log(df1 / df2);
  return solveProbability({
    lower,
    upper,
    lowerOf: (f) => lowerOf(f, df1, df2),
    upperOf: (f) => upperOf(f, df1, df2),
    densityOf: (f) => Math.exp(constant + (a - 1) * Math.log(f) - (a + b) * Math.log1p((df1 / df2) * f)),
    start: 1,
  });
}
