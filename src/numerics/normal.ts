import erfc from "@stdlib/math-base-special-erfc";
import { twoProduct } from "./double-double.ts";
import { lowerGamma } from "./incomplete-gamma.ts";
import { requireNumber, requireProbability } from "./probability-checks.ts";
import { solveProbability } from "./solve-probability.ts";

/** P(Z > z) of the standard normal, relative accuracy about 1e-15 down to 1e-307. Example: `normalTail(1.959963984540054)` is 0.025. */
export function normalTail(z: number): number {
  requireNumber("z", z);
  return tail(z);
}

/** P(Z ≤ z) of the standard normal, relative accuracy about 1e-15 in the lower tail too. Example: `normalCdf(-1.959963984540054)` is 0.025. */
export function normalCdf(z: number): number {
  requireNumber("z", z);
  return tail(-z);
}

/** The z with P(Z ≤ z) = probability, 0 < probability < 1. Example: `normalQuantile(0.975)` is 1.959963984540054. */
export function normalQuantile(probability: number): number {
  requireProbability("probability", probability);
  return probability < 0.5 ? -upperQuantile(probability) : upperQuantile(1 - probability);
}

/** The z with P(Z > z) = tail: what `normalQuantile(1 − tail)` would be, without the digits that 1 − tail loses. */
export function normalUpperQuantile(tailProbability: number): number {
  requireProbability("tail", tailProbability);
  return tailProbability <= 0.5 ? upperQuantile(tailProbability) : -upperQuantile(1 - tailProbability);
}

/** Density of the standard normal. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

const rootHalf = { high: Math.SQRT1_2, low: -4.833646656726457e-17 };

/**
 * The rounding of z/√2 would cost a far tail z² units of the last place; the derivative puts it back. −erfc′/erfc is between 2x and 2x + 1/x for x > 0, near enough for
 * a correction this small; below 0.5 none is needed.
 */
function tail(z: number): number {
  if (!(Math.abs(z) < 40)) return z > 0 ? 0 : 1;
  const high = z * rootHalf.high;
  const value = 0.5 * erfc(high);
  if (high < 0.5) return value;
  const lost = twoProduct(z, rootHalf.high).low + z * rootHalf.low;
  return value - value * lost * (2 * high + 0.8 / high);
}

/** ln P(Z > z), finite however far out: beyond 37 by Laplace's asymptotic series, whose sixth term is below 1e-16 there. */
export function logNormalTail(z: number): number {
  if (z < 37) return Math.log(tail(z));
  const s = 1 / (z * z);
  const series = -s * (1 - 3 * s * (1 - 5 * s * (1 - 7 * s * (1 - 9 * s))));
  return -0.5 * z * z - Math.log(z * Math.sqrt(2 * Math.PI)) + Math.log1p(series);
}

/** For tails up to one half. Near the middle through P(0 < Z < z), where small z keeps its digits. */
function upperQuantile(q: number): number {
  if (q === 0.5) return 0;
  return solveProbability({
    upper: 2 * q,
    lower: 1 - 2 * q,
    upperOf: (z) => 2 * tail(z),
    lowerOf: (z) => lowerGamma(0.5, 0.5 * z * z),
    densityOf: (z) => 2 * normalDensity(z),
    start: 1,
  });
}
