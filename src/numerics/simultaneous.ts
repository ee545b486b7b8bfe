import { bellIntegral } from "./bell-quadrature.ts";
import { brentRoot } from "./brent-root.ts";
import { logScaleDensity } from "./chi-density.ts";

/** Mean of a tail of known scale, at `at` estimated standard deviations, over the distribution of the estimate with `df` degrees of freedom. */
export function overScale(at: number, df: number, tailOf: (x: number) => number): number {
  if (df === Infinity) return Math.min(1, tailOf(at));
  const logDensity = logScaleDensity(df);
  const value = bellIntegral((w) => logDensity(w) + Math.log(tailOf(at * Math.exp(w))), {
    // Far out the estimate must be small to get there: begin where the tail is not 0.
    start: Math.min(0, Math.log(25 / at)),
    width: Math.min(1, 1 / Math.sqrt(df)),
  });
  return Math.min(1, value);
}

/** The point between two bounds at which a falling tail has the value wanted. */
export function simultaneousQuantile(
  wanted: number,
  low: number,
  high: number,
  tailOf: (x: number) => number,
): number {
  const miss = (x: number): number => Math.log(tailOf(x) / wanted);
  // Rounding of the tail may leave a bound that is the answer itself on its wrong side.
  if (miss(low) <= 0) return low;
  if (miss(high) >= 0) return high;
  return brentRoot(miss, low, high, { tolerance: 1e-12 * high });
}
