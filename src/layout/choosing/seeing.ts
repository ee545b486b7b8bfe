import { brentRoot } from "../../numerics/index.ts";
import { termPower } from "../judge/term-power.ts";
import { WANTED_CHANCE } from "./question.ts";

/** Two-sided t tests at one confidence, each figure reckoned once: a choice asks for the same ones over and over. */
export interface Seeing {
  /** The limit of the test. */
  readonly limit: (df: number) => number;
  /** Chance to see an effect of so many standard errors, on the side on which it lies. */
  readonly chance: (standardErrors: number, df: number) => number;
  /** How many standard errors an effect must have to be seen with chance 0.8. Example: 12 degrees of freedom at 0.95: 3.03. */
  readonly seen: (df: number) => number;
}

export function seeingAt(confidence: number): Seeing {
  const power = termPower(confidence);
  const known = new Map<number, number>();
  return {
    limit: power.limit,
    chance: power.of,
    seen: (df) => {
      // Twice the limit and three more is seen nearly always, whatever the degrees of freedom.
      const found =
        known.get(df) ??
        brentRoot((errors) => power.of(errors, df) - WANTED_CHANCE, 0, 2 * power.limit(df) + 3, {
          tolerance: 1e-9,
        });
      known.set(df, found);
      return found;
    },
  };
}
