import type { SeededRandom } from "../../src/numerics/index.ts";

/** One interval (or assurance, or test) whose stated chance is held against drawn trials. */
export interface CoverageCase {
  /** Unique among all cases; it stands in the committed table. */
  readonly name: string;
  /** The share that the method promises: 0.95 for a 95 % interval, 0.05 for the false alarms of a test. */
  readonly nominal: number;
  /** `at least` where the method promises no more than a bound. Default "equal". */
  readonly promise?: "equal" | "at least" | "at most";
  /** A whole number, written in the table; each block of trials draws from a stream of its own. */
  readonly seed: number;
  /** Set only where the method is known to miss its promise: why, and where its users are told the true figure. */
  readonly known?: string;
  /** Draws one trial and says whether the promise held in it; null where the method gave no interval, which is counted apart. */
  readonly simulate: (random: SeededRandom) => boolean | null;
}

/** What came of a case. */
export interface CoverageResult {
  readonly name: string;
  readonly nominal: number;
  readonly promise: "equal" | "at least" | "at most";
  readonly seed: number;
  readonly trials: number;
  readonly held: number;
  /** Trials in which no interval was given. */
  readonly without: number;
}

/** Trials are drawn in blocks, each from its own stream, so that the figures don't depend on how many workers share them. */
export const BLOCK = 500;
