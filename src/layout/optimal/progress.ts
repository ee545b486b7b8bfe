import { relativeEfficiency, worthText } from "./efficiency-of-worth.ts";
import type { Criterion } from "./design-state.ts";
import type { OptimalProblem } from "./problem.ts";

/** How far a search for an optimal layout has come. */
export interface LayoutProgress {
  readonly criterion: Criterion;
  /** Starts that were asked for. */
  readonly starts: number;
  readonly startsDone: number;
  /** The best so far, as in the layout's notes; null while no start has told all terms apart. */
  readonly best: string | null;
  /** Starts that reached the best so far. */
  readonly reached: number;
  /** Efficiency of the middle and of the worst start as shares of the best so far. */
  readonly middleShare: number;
  readonly worstShare: number;
  /** One line for people. */
  readonly text: string;
}

/** Starts that come this near to the best, by efficiency, count as having reached it. */
const REACHED = 1e-6;

/** How the worths of the starts made so far stand to the best of them. */
export function progressOf(problem: OptimalProblem, worths: readonly number[]): LayoutProgress {
  const best = worths.reduce((most, worth) => Math.max(most, worth), Number.NEGATIVE_INFINITY);
  const shares = worths
    .map((worth) => relativeEfficiency(problem, worth, best))
    .sort((one, other) => one - other);
  const found = best > Number.NEGATIVE_INFINITY;
  const reached = found ? shares.filter((share) => share > 1 - REACHED).length : 0;
  const { starts, plan } = problem.request;
  const { criterion } = plan;
  const words = found ? worthText(problem, best) : null;
  return {
    criterion,
    starts,
    startsDone: worths.length,
    best: words,
    reached,
    middleShare: shares[Math.floor(shares.length / 2)] ?? 0,
    worstShare: shares[0] ?? 0,
    text: `${worths.length.toLocaleString("en")} of ${starts.toLocaleString("en")} starts; ${words === null ? "none tells all the terms apart yet" : `best ${words}, reached by ${reached}`}`,
  };
}
