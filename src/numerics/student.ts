import betainc from "@stdlib/math-base-special-betainc";
import gammaln from "@stdlib/math-base-special-gammaln";
import { normalTail, normalUpperQuantile } from "./normal.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { solveProbability } from "./solve-probability.ts";

/**
 * P(T > t) of Student's t with df degrees of freedom (fractions allowed; Infinity is the normal). Relative accuracy about 1e-13 down to 1e-300.
 * Example: `tTail(3.182446305283708, 3)` is 0.025.
 */
export function tTail(t: number, df: number): number {
  requireStudent(t, df);
  if (df === Infinity) return normalTail(t);
  return t >= 0 ? 0.5 * outside(t, df) : 0.5 + 0.5 * inside(-t, df);
}

/** P(T ≤ t), with relative accuracy in the lower tail. */
export function tCdf(t: number, df: number): number {
  return tTail(-t, df);
}

/** P(|T| > |t|), the two-sided p-value. Example: `tTwoSided(3.182446305283708, 3)` is 0.05. */
export function tTwoSided(t: number, df: number): number {
  requireStudent(t, df);
  return df === Infinity ? 2 * normalTail(Math.abs(t)) : outside(Math.abs(t), df);
}

/** The t with P(T ≤ t) = probability. Example: `tQuantile(0.975, 3)` is 3.182446305283708. */
export function tQuantile(probability: number, df: number): number {
  requireProbability("probability", probability);
  requirePositive("df", df);
  return probability < 0.5 ? -upperQuantile(probability, df) : upperQuantile(1 - probability, df);
}

/** The t with P(T > t) = tail: keeps the digits of a small tail. */
export function tUpperQuantile(tail: number, df: number): number {
  requireProbability("tail", tail);
  requirePositive("df", df);
  return tail <= 0.5 ? upperQuantile(tail, df) : -upperQuantile(1 - tail, df);
}

function requireStudent(t: number, df: number): void {
  requireNumber("t", t);
  requirePositive("df", df);
}

/** P(|T| > t) for t ≥ 0. */
function outside(t: number, df: number): number {
  if (t === Infinity) return 0;
  const ratio = df / t / t;
  if (ratio < 1e-40) return farOutside(t, df);
  return ratio > 1
    ? betainc(1 / (1 + ratio), 0.5, df / 2, true, true)
    : betainc(ratio / (1 + ratio), df / 2, 0.5, true, false);
}

/** Beyond t²/df = 1e40 the tail is a pure power; what that leaves out is of relative size df/t². */
function farOutside(t: number, df: number): number {
  const near = Math.sqrt(df) * 1e19;
  return outside(near, df) * (near / t) ** df;
}

/** P(|T| ≤ t) for t ≥ 0. */
function inside(t: number, df: number): number {
  if (t === Infinity) return 1;
  const ratio = df / t / t;
  return ratio > 1
    ? betainc(1 / (1 + ratio), 0.5, df / 2, true, false)
    : betainc(ratio / (1 + ratio), df / 2, 0.5, true, true);
}

/** For tails up to one half. */
function upperQuantile(tail: number, df: number): number {
  if (df === Infinity) return normalUpperQuantile(tail);
  const constant = gammaln((df + 1) / 2) - gammaln(df / 2) - 0.5 * Math.log(df * Math.PI) + Math.LN2;
  return solveProbability({
    lower: 1 - 2 * tail,
    upper: 2 * tail,
    lowerOf: (t) => inside(t, df),
    upperOf: (t) => outside(t, df),
    densityOf: (t) => Math.exp(constant - ((df + 1) / 2) * Math.log1p((t / df) * t)),
    start: 1,
  });
}
