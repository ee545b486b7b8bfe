import gammaln from "@stdlib/math-base-special-gammaln";
import { stirlingRest } from "./poisson-weight.ts";

/**
 * Logarithm of the density of w = ln √(χ²/df), the logarithm of a residual standard deviation over its true value. Integrals over an estimated scale become
 * smooth on this line. Written about its peak at w = 0, so that many degrees of freedom cost no digits.
 */
export function logScaleDensity(df: number): (w: number) => number {
  const half = df / 2;
  const constant = Math.LN2 + logPeak(half);
  return (w) => constant + df * belowPeak(w);
}

/** a·ln a − a − ln Γ(a), by Stirling's series where the direct difference would cancel. */
function logPeak(a: number): number {
  if (a < 16) return a * Math.log(a) - a - gammaln(a);
  return 0.5 * Math.log(a / (2 * Math.PI)) - stirlingRest(a);
}

/** w − (e²ʷ − 1)/2, which is −w² to second order. */
function belowPeak(w: number): number {
  if (Math.abs(w) > 0.25) return w - Math.expm1(2 * w) / 2;
  const twice = 2 * w;
  let term = twice;
  let sum = 0;
  for (let k = 2; k <= 18; k++) {
    term *= twice / k;
    sum += term;
  }
  return -sum / 2;
}
