import { nonCentralTTail, tQuantile } from "../../numerics/index.ts";

/** Beyond so many standard errors an effect is seen for certain; the distribution is not asked. */
const SURE = 1000;

/** Limits of two-sided t tests at one confidence, and the chance that they see an effect. */
export interface TermPower {
  readonly limit: (df: number) => number;
  /**
   * Chance that the test sees an effect of so many standard errors, on the side on which it lies (being led to the wrong side is
   * not seeing it): noncentral t.
   */
  readonly of: (standardErrors: number, df: number) => number;
}

/** Terms of one width and degrees of freedom are reckoned once. */
export function termPower(confidence: number): TermPower {
  const limits = new Map<number, number>();
  const powers = new Map<string, number>();
  const limit = (df: number): number => {
    const known = limits.get(df) ?? tQuantile((1 + confidence) / 2, df);
    limits.set(df, known);
    return known;
  };
  const of = (standardErrors: number, df: number): number => {
    if (standardErrors > SURE) return 1;
    // Twelve digits tell two widths apart; the rest is rounding.
    const key = `${standardErrors.toPrecision(12)} ${df.toPrecision(12)}`;
    const known = powers.get(key) ?? Math.min(1, nonCentralTTail(limit(df), df, standardErrors));
    powers.set(key, known);
    return known;
  };
  return { limit, of };
}

/** The same for a single question. Null with no error left. */
export function powerOf(standardErrors: number, df: number, confidence: number): number | null {
  return df < 1 ? null : termPower(confidence).of(standardErrors, df);
}
