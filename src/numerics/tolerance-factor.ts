import { numericsError } from "./error.ts";
import { nonCentralTQuantile } from "./noncentral-t.ts";
import { normalQuantile } from "./normal.ts";
import { requireProbability } from "./probability-checks.ts";

/**
 * The k of a one-sided tolerance bound mean + k·s, which at least the share `coverage` of all parts stays below, with the stated `confidence`, from a sample of n
 * normal values. `df` of the standard deviation is n − 1 unless it comes from a larger fit; `n` may then be a fraction (1 over the mean's leverage).
 * Accuracy: relative 1e-10. Source: ISO 16269-6; Odeh and Owen 1980.
 * Example: `toleranceFactor(10, 0.95, 0.95)` is 2.91096.
 */
export function toleranceFactor(
  n: number,
  coverage: number,
  confidence: number,
  options: { readonly df?: number } = {},
): number {
  const { df = n - 1 } = options;
  requireProbability("coverage", coverage);
  requireProbability("confidence", confidence);
  if (!(n > 0 && n < Infinity)) throw numericsError(`a sample of ${n}`, "a number above 0");
  if (!(df > 0))
    throw numericsError(`${df} degrees of freedom`, "more than 0", "Cut at least one replicate.");
  const root = Math.sqrt(n);
  return nonCentralTQuantile(confidence, df, normalQuantile(coverage) * root) / root;
}
