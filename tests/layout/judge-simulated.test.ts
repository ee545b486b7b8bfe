import { describe, expect, test } from "vitest";
import { cases, simulated } from "../simulation/judging.ts";

/** The full table of 100,000 trials stands in tests/simulation/judging.md; this is a short run of the same, seed 20261125. */
const TRIALS = 4000;

describe.each(cases)("power and half-widths of $what agree with simulated trials that are fitted", (one) => {
  test("to four Monte Carlo errors", () => {
    for (const { power, seen, covered, halfWidth, meanHalfWidth } of simulated(one, TRIALS)) {
      const error = (share: number) => 4 * Math.sqrt((share * (1 - share)) / TRIALS);
      expect(Math.abs(seen - power)).toBeLessThan(error(power));
      expect(Math.abs(covered - 0.95)).toBeLessThan(error(0.95));
      // The spread of s is at most 0.31 of it with 5 or 4 degrees of freedom and less with more.
      expect(Math.abs(meanHalfWidth / halfWidth - 1)).toBeLessThan((4 * 0.37) / Math.sqrt(TRIALS));
    }
  });
});
