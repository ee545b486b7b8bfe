import { chiSquareCdf, chiSquareTail } from "./chi-square.ts";
import { numericsError, requireFinite } from "./error.ts";
import { betaCdf, betaTail } from "./beta.ts";
import { poissonWeight } from "./poisson-weight.ts";
import { requireNumber, requirePositive } from "./probability-checks.ts";

/**
 * P(F ≤ f) of the variance ratio whose numerator has noncentrality `shift` (the sum of squares of the true effects over σ²): the power of an F test.
 * A sum of Poisson weights times central probabilities, taken from the largest term outwards; all terms are positive.
 * Accuracy: relative 1e-11 in both tails; shift up to 1e6 (the work grows with its square root).
 * Source: Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 2, chapter 30.
 * Example: `nonCentralFCdf(fQuantile(0.95, 3, 12), 3, 12, 0)` is 0.95.
 */
export function nonCentralFCdf(f: number, df1: number, df2: number, shift: number): number {
  return mixture(f, df1, df2, shift, "lower");
}

/** P(F > f), computed directly: the power, when f is the critical value. */
export function nonCentralFTail(f: number, df1: number, df2: number, shift: number): number {
  return mixture(f, df1, df2, shift, "upper");
}

function mixture(f: number, df1: number, df2: number, shift: number, side: "lower" | "upper"): number {
  requireNumber("f", f);
  requirePositive("df1", df1);
  requirePositive("df2", df2);
  requireFinite("df1", df1);
  requireFinite("the noncentrality", shift);
  if (shift < 0 || shift > 1e6) throw numericsError(`a noncentrality of ${shift}`, "0 to 1e6");
  if (f <= 0 || f === Infinity) return f > 0 === (side === "lower") ? 1 : 0;
  const central = centralProbability(f, df1, df2, side);
  if (shift === 0) return central(0);
  const mean = shift / 2;
  const middle = Math.floor(mean);
  const atMiddle = weightOf(middle, mean);
  let sum = 0;
  for (const direction of [1, -1] as const) {
    let weight = atMiddle;
    let previous = 0;
    for (let j = middle; j >= 0; j += direction) {
      const term = weight * central(j);
      if (direction === 1 || j !== middle) sum += term;
      // Terms rise to one peak and fall: only a falling one may end the sum.
      if (term <= previous && term < 1e-17 * sum) break;
      if (term === 0 && weight === 0) break;
      previous = term;
      weight *= direction === 1 ? mean / (j + 1) : j / mean;
    }
  }
  return Math.min(1, sum);
}

/** Probability that the ratio with df1 + 2j degrees of freedom above stays below (or passes) the same quotient of sums of squares. */
function centralProbability(
  f: number,
  df1: number,
  df2: number,
  side: "lower" | "upper",
): (j: number) => number {
  if (df2 === Infinity) {
    const probability = side === "lower" ? chiSquareCdf : chiSquareTail;
    return (j) => probability(f * df1, df1 + 2 * j);
  }
  const odds = (df1 / df2) * f;
  // x or 1 − x, whichever is small, goes to the incomplete beta function.
  const small = odds < 1;
  const x = small ? odds / (1 + odds) : 1 / (1 + odds);
  const probability = small === (side === "lower") ? betaCdf : betaTail;
  return small ? (j) => probability(x, df1 / 2 + j, df2 / 2) : (j) => probability(x, df2 / 2, df1 / 2 + j);
}

function weightOf(j: number, mean: number): number {
  if (j >= 16) return poissonWeight(j, mean);
  let weight = Math.exp(-mean);
  for (let k = 1; k <= j; k++) weight *= mean / k;
  return weight;
}
