import { numericsError } from "./error.ts";
import { normalDensity, normalTail } from "./normal.ts";
import { outwardSum } from "./outward-sum.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { overScale, simultaneousQuantile } from "./simultaneous.ts";
import { tUpperQuantile } from "./student.ts";

/**
 * P(Q > q) for the range of `groups` normal means over their common standard error, estimated with `df` degrees of freedom (Infinity where it is known): the p-value of
 * every pair compared with every other (Tukey; for unequal sizes Tukey and Kramer). Two nested integrals of positive terms, so small tails keep
 * their digits: relative accuracy 1e-10 down to 1e-300.
 * `groups` 2 to 1000, `df` from 1.
 * Source: Harter 1960, Annals of Mathematical Statistics 31, 1122–1147 (definition and tables).
 * Example: `studentisedRangeTail(3.87678, 3, 10)` is 0.05.
 */
export function studentisedRangeTail(q: number, groups: number, df: number): number {
  requireRange(q, groups, df);
  if (q <= 0) return 1;
  return q === Infinity ? 0 : overScale(q, df, (w) => normalRangeTail(w, groups));
}

/** P(Q ≤ q), computed directly; relative accuracy 1e-10 above 1e-6. */
export function studentisedRangeCdf(q: number, groups: number, df: number): number {
  requireRange(q, groups, df);
  if (q <= 0) return 0;
  return q === Infinity ? 1 : overScale(q, df, (w) => normalRangeCdf(w, groups));
}

/** The q with P(Q ≤ q) = probability. Relative accuracy 1e-9. Example: `studentisedRangeQuantile(0.95, 4, 20)` is 3.95829. */
export function studentisedRangeQuantile(probability: number, groups: number, df: number): number {
  requireProbability("probability", probability);
  requireRange(1, groups, df);
  return studentisedRangeUpperQuantile(1 - probability, groups, df);
}

/** The q with P(Q > q) = tail. */
export function studentisedRangeUpperQuantile(tail: number, groups: number, df: number): number {
  requireProbability("tail", tail);
  requireRange(1, groups, df);
  // At least as far out as one pair by itself, at most as far as all pairs with their tails added up (Bonferroni).
  const pairs = (groups * (groups - 1)) / 2;
  const low = Math.SQRT2 * tUpperQuantile(tail / 2, df);
  const high = Math.SQRT2 * tUpperQuantile(tail / 2 / pairs, df);
  return simultaneousQuantile(tail, low, high, (q) => studentisedRangeTail(q, groups, df));
}

function requireRange(q: number, groups: number, df: number): void {
  requireNumber("q", q);
  if (!Number.isInteger(groups) || groups < 2 || groups > 1000)
    throw numericsError(`${groups} groups`, "a whole number from 2 to 1000");
  requirePositive("df", df);
  if (df < 1) throw numericsError(`${df} degrees of freedom`, "1 or more");
}

/** Even steps are small against the hump, which narrows slowly with the number of means. */
function stepFor(groups: number): number {
  return 0.4 / Math.sqrt(1 + Math.log(groups));
}

/** P(range of n standard normal values > w) = n·∫ φ(z)·[Φ(z)ᵐ − (Φ(z) − Φ(z − w))ᵐ] dz, m = n − 1, z the largest of them. */
function normalRangeTail(w: number, groups: number): number {
  const others = groups - 1;
  const density = (z: number): number => {
    const below = normalTail(-z);
    const far = normalTail(w - z);
    if (far >= below) return normalDensity(z) * below ** others;
    return -normalDensity(z) * below ** others * Math.expm1(others * Math.log1p(-far / below));
  };
  return groups * outwardSum(density, w / 2, stepFor(groups));
}

function normalRangeCdf(w: number, groups: number): number {
  const others = groups - 1;
  // On the side where both probabilities are small, so that the difference keeps its digits.
  const between = (z: number): number =>
    z > w / 2 ? normalTail(z - w) - normalTail(z) : normalTail(-z) - normalTail(w - z);
  return groups * outwardSum((z) => normalDensity(z) * between(z) ** others, w / 2, stepFor(groups));
}
