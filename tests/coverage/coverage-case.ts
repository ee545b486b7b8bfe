import type { SeededRandom } from "../../src/numerics/index.ts";

/** One figure of the committed table: an interval, assurance or test with the chance that it promises. */
export interface CoverageFigure {
  /** Unique among all cases; it stands in the committed table. */
  readonly name: string;
  /** The share that the method promises: 0.95 for a 95 % interval, 0.05 for the false alarms of a test. */
  readonly nominal: number;
  /** `at least` where the method promises no more than a bound; `told` where nothing is promised and the figure is for telling, such as the power of a remark. Default "equal". */
  readonly promise?: "equal" | "at least" | "at most" | "told";
  /** Trials to draw where the usual number would take hours; the table holds how many were drawn. */
  readonly fewer?: number;
  /** Set only where the method is known to miss its promise: why, and where its users are told the true figure. */
  readonly known?: string;
}

/** One interval (or assurance, or test) whose stated chance is held against drawn trials. */
export interface CoverageCase extends CoverageFigure {
  /** A whole number, written in the table; each block of trials draws from a stream of its own. Cases drawn together share it. */
  readonly seed: number;
  /** Draws one trial and says whether the promise held in it; null where the method gave no interval, which is counted apart. */
  readonly simulate: (random: SeededRandom) => boolean | null;
  /** Cases that are looked at in the same drawn trials, the first of them named first; a drawn trial answers for all. */
  readonly together?: {
    readonly names: readonly string[];
    readonly simulate: (random: SeededRandom) => readonly (boolean | null)[];
  };
}

/** Cases that share their drawn trials: `simulate` answers for each of them in order. */
export function drawnTogether(
  seed: number,
  figures: readonly CoverageFigure[],
  simulate: (random: SeededRandom) => readonly (boolean | null)[],
): readonly CoverageCase[] {
  const together = { names: figures.map(({ name }) => name), simulate };
  return figures.map((figure, k) => ({
    ...figure,
    seed,
    simulate: (random) => simulate(random)[k],
    together,
  }));
}

/** What came of a case. */
export interface CoverageResult {
  readonly name: string;
  readonly nominal: number;
  readonly promise: "equal" | "at least" | "at most" | "told";
  readonly seed: number;
  readonly trials: number;
  readonly held: number;
  /** Trials in which no interval was given. */
  readonly without: number;
}

/** Trials are drawn in blocks, each from its own stream, so that the figures don't depend on how many workers share them. */
export const BLOCK = 500;
