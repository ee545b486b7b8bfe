import { betaCdf, betaTail } from "../../numerics/index.ts";

/**
 * P(X ≤ most) for X parts of `parts` that pass the limit, each with the chance `over`. The binomial sum is an incomplete beta
 * integral (Abramowitz and Stegun 26.5.24), whose smaller side keeps its digits.
 *
 * Example: `binomialAtMost(0, 22, 0.128)` is 0.872²² = 0.0491.
 */
export function binomialAtMost(most: number, parts: number, over: number): number {
  if (most < 0) return 0;
  if (most >= parts || over <= 0) return 1;
  if (over >= 1) return 0;
  return betaTail(over, most + 1, parts - most);
}

/** P(X > most), computed directly, so that small chances keep their digits. */
export function binomialAbove(most: number, parts: number, over: number): number {
  if (most < 0) return 1;
  if (most >= parts || over <= 0) return 0;
  if (over >= 1) return 1;
  return betaCdf(over, most + 1, parts - most);
}
