import { bellIntegral } from "./bell-quadrature.ts";
import { brentRoot } from "./brent-root.ts";
import { logScaleDensity } from "./chi-density.ts";
import { numericsError, requireFinite } from "./error.ts";
import { logNormalTail, normalCdf, normalTail } from "./normal.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";

/**
 * P(T ≤ t) for T = (Z + shift)/√(χ²/df): the power of a t test, and tolerance bounds. `df` may be a fraction or Infinity; `shift` is the noncentrality,
 * true difference over its standard error.
 * Accuracy: relative 1e-12 in both tails down to 1e-300 (cdf and tail are separate integrals of positive terms; series with absolute error lose small tails).
 * Example: two groups of 8, difference of one standard deviation, two-sided 5 %: `nonCentralTTail(tQuantile(0.975, 14), 14, 2)` is 0.461176.
 */
export function nonCentralTCdf(t: number, df: number, shift: number): number {
  requireQuestion(t, df, shift);
  if (df === Infinity || !Number.isFinite(t)) return normalCdf(t - shift);
  return overScale(df, (scale) => logNormalTail(shift - t * scale));
}

/** P(T > t), computed directly. */
export function nonCentralTTail(t: number, df: number, shift: number): number {
  requireQuestion(t, df, shift);
  if (df === Infinity || !Number.isFinite(t)) return normalTail(t - shift);
  return overScale(df, (scale) => logNormalTail(t * scale - shift));
}

/** The t with P(T ≤ t) = probability. Relative accuracy about 1e-11. */
export function nonCentralTQuantile(probability: number, df: number, shift: number): number {
  requireProbability("probability", probability);
  requireQuestion(0, df, shift);
  const miss =
    probability < 0.5
      ? (t: number): number => Math.log(nonCentralTCdf(t, df, shift) / probability)
      : (t: number): number => -Math.log(nonCentralTTail(t, df, shift) / (1 - probability));
  let reach = 1 + Math.abs(shift) / 2;
  while (miss(shift + reach) < 0) reach *= 2;
  const high = shift + reach;
  reach = 1 + Math.abs(shift) / 2;
  while (miss(shift - reach) > 0) reach *= 2;
  return brentRoot(miss, shift - reach, high);
}

function requireQuestion(t: number, df: number, shift: number): void {
  requireNumber("t", t);
  requirePositive("df", df);
  requireFinite("the noncentrality", shift);
  if (Math.abs(shift) > 1e4) throw numericsError(`a noncentrality of ${shift}`, "10 000 at most in size");
}

/** Mean of a probability, given by its logarithm, over the residual standard deviation (true value 1). */
function overScale(df: number, logProbability: (scale: number) => number): number {
  const logDensity = logScaleDensity(df);
  return Math.min(
    1,
    bellIntegral((w) => logDensity(w) + logProbability(Math.exp(w)), {
      start: 0,
      width: Math.min(1, 1 / Math.sqrt(df)),
    }),
  );
}
