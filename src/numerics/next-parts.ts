import { numericsError } from "./error.ts";
import { lazyCubic } from "./lazy-cubic.ts";
import { normalDensity, normalQuantile, normalTail } from "./normal.ts";
import { outwardSum } from "./outward-sum.ts";
import { requireNumber, requirePositive, requireProbability } from "./probability-checks.ts";
import { overScale, simultaneousQuantile } from "./simultaneous.ts";
import { tQuantile, tTail, tUpperQuantile } from "./student.ts";

/** Parts that are yet to be cut at one setting, beside an estimate of their mean. */
export interface NextParts {
  /** How many: 1 to 100 000. */
  readonly parts: number;
  /** Variance of the estimate over that of one part: 1/n for the mean of n, the leverage of a setting in a fit. Zero where the mean is known. */
  readonly leverage: number;
}

/**
 * P(some of the next parts lies above estimate + k·s): one minus the assurance of a one-sided bound for each of them. s is a standard deviation of one part on `df`
 * degrees of freedom (a fraction or Infinity), independent of the estimate; scatter is normal.
 *
 * The parts share the estimate's error and s, so their distances from the estimate are equicorrelated multivariate t, ρ = h/(1 + h) for leverage h. Given that error they are
 * independent, which leaves two nested integrals of positive terms.
 * Accuracy: relative 1e-10 down to 1e-300; refused: fewer than 1 or more than 100 000 parts, leverage below 0.
 * Source: Dunnett and Sobel 1955, Biometrika 42, 258–260; Hahn 1970, Journal of the American Statistical Association 65, 1668–1676.
 * Example: the mean of 10 parts, 5 more to come: `nextPartsTail(nextPartsFactor(0.95, { parts: 5, leverage: 0.1 }, 9), { parts: 5, leverage: 0.1 }, 9)` is 0.05.
 */
export function nextPartsTail(k: number, next: NextParts, df: number): number {
  requireNext(next, df);
  requireNumber("k", k);
  const { parts, leverage } = next;
  if (parts === 1) return tTail(k / Math.sqrt(1 + leverage), df);
  if (k === Infinity) return 0;
  if (k === -Infinity) return 1;
  return tailOverScale(k, df, knownScaleTail(next));
}

/**
 * The k of a one-sided bound estimate + k·s that each of the next parts keeps, with the stated assurance for all of them together. Relative accuracy 1e-9; see `nextPartsTail`.
 * Example: one part after the mean of 10: `nextPartsFactor(0.95, { parts: 1, leverage: 0.1 }, 9)` is 1.92257, t(0.95, 9)·√1.1.
 */
export function nextPartsFactor(assurance: number, next: NextParts, df: number): number {
  requireNext(next, df);
  requireProbability("assurance", assurance);
  const { parts, leverage } = next;
  if (parts === 1) return tQuantile(assurance, df) * Math.sqrt(1 + leverage);
  const tailOf = knownScaleTail(next);
  return factorBy(assurance, next, df, (k) => tailOverScale(k, df, tailOf));
}

/**
 * `nextPartsFactor` for many questions about the same parts: the chance at a known scale is computed at places 0.04 apart, once, with cubics of its logarithm between them.
 * Relative accuracy 1e-6.
 */
export function nextPartsFactors(next: NextParts): (assurance: number, df: number) => number {
  requireNext(next, 1);
  if (next.parts === 1) return (assurance, df) => nextPartsFactor(assurance, next, df);
  const exact = knownScaleTail(next);
  // Far out the chance is below the smallest number, whose logarithm is −745.
  const quick = lazyCubic((x) => Math.max(-745, Math.log(exact(x))), 0.04);
  const tailOf = (x: number): number => Math.exp(quick(x));
  return (assurance, df) => {
    requireNext(next, df);
    requireProbability("assurance", assurance);
    return factorBy(assurance, next, df, (k) => tailOverScale(k, df, tailOf));
  };
}

function factorBy(
  assurance: number,
  { parts, leverage }: NextParts,
  df: number,
  tailAt: (k: number) => number,
): number {
  const root = Math.sqrt(1 + leverage);
  const tail = 1 - assurance;
  // At least as far out as one part by itself, at most as far as all with their tails added up (Bonferroni).
  const low = tUpperQuantile(tail, df) * root;
  return simultaneousQuantile(tail, low, tUpperQuantile(tail / parts, df) * root, tailAt);
}

function tailOverScale(k: number, df: number, tailOf: (x: number) => number): number {
  if (k === 0 || df === Infinity) return tailOf(k);
  return k > 0 ? overScale(k, df, tailOf) : overScale(-k, df, (x) => tailOf(-x));
}

function requireNext({ parts, leverage }: NextParts, df: number): void {
  if (!Number.isInteger(parts) || parts < 1 || parts > 100_000)
    throw numericsError(`${parts} next parts`, "a whole number from 1 to 100 000");
  if (!(leverage >= 0 && leverage < Infinity))
    throw numericsError(`a leverage of ${leverage}`, "a number of 0 or more");
  requirePositive("df", df);
}

/** P(some part lies above the estimate + x) with the standard deviation of one part known to be 1. */
function knownScaleTail({ parts, leverage }: NextParts): (x: number) => number {
  const shared = Math.sqrt(leverage);
  const some = (above: number): number => -Math.expm1(parts * Math.log1p(-above));
  if (shared === 0) return (x) => some(normalTail(x));
  // Beyond it one part in all is expected to lie: there the chance that some does turns from nearly 1 to nearly 0.
  const turn = normalQuantile(1 - 1 / parts);
  const step = (0.5 * Math.min(1, 1 / shared)) / Math.sqrt(1 + Math.log(parts));
  return (x) => {
    const alone = (shared * x) / (1 + leverage);
    const hump = x - shared * alone > turn ? alone : (x - turn) / shared;
    return outwardSum((z) => normalDensity(z) * some(normalTail(x - shared * z)), Math.max(0, hump), step);
  };
}
