import { brentRoot, nonCentralTCdf, tQuantile } from "../../numerics/index.ts";
import { WANTED_CHANCE } from "./question.ts";

/**
 * How many standard errors an effect must have to be seen with chance 0.8 by a two-sided t test; null with no degree of
 * freedom. Example: 12 degrees of freedom, confidence 0.95: 3.0.
 */
export function standardErrorsSeen(df: number, confidence: number): number | null {
  if (df < 1) return null;
  const critical = tQuantile((1 + confidence) / 2, df);
  const short = (standardErrors: number) =>
    WANTED_CHANCE - (1 - nonCentralTCdf(critical, df, standardErrors));
  // Twice the critical value and three more is seen nearly always, whatever the degrees of freedom.
  return brentRoot(short, 0, 2 * critical + 3, { tolerance: 1e-9 });
}
