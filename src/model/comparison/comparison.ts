import type { Uncertain } from "../fit.ts";
import type { ScatterBeside, UnequalScatter } from "../dispersion/index.ts";

/** How the differences share the chance of error. */
export type ComparisonMethod = "every-pair" | "with-control" | "holm" | "unequal-scatter" | "ranks";

/** One level with its mean (the geometric mean on a log scale), its own interval, and the scatter of its runs. */
export interface ComparedLevel {
  readonly level: string;
  readonly runs: number;
  /** The other factors in their middle where there are any; not simultaneous with the other levels. Under ranks the median. */
  readonly mean: Uncertain;
  /** Of its own runs, on the scale that was compared; null with one run, or where other factors or blocks moved too. */
  readonly standardDeviation: number | null;
}

/** `to` less `from`, or `to` over `from` on a log scale. */
export interface LevelPair {
  readonly from: string;
  readonly to: string;
  readonly as: "difference" | "ratio";
  /** The interval holds together with those of all the other pairs. */
  readonly value: Uncertain;
  /** On the scale that was compared (logarithms for a ratio); null without scatter to judge by, and under ranks. */
  readonly standardError: number | null;
  /** Degrees of freedom behind the standard error; null under ranks. */
  readonly df: number | null;
  /** The chance of so large a difference in any pair where none differs; null where it can't be told. */
  readonly p: number | null;
  /** In the shop's words, with the interval, or what could have been missed. */
  readonly sentence: string;
}

/** Whether the levels differ at all. */
export interface OverallTest {
  readonly statistic: number;
  readonly df: number;
  /** Of the scatter; null for ranks. */
  readonly dfScatter: number | null;
  readonly p: number;
  readonly text: string;
}

/** Levels of a category compared. */
export interface Comparison {
  readonly factor: string;
  readonly response: { readonly name: string; readonly unit: string };
  readonly method: ComparisonMethod;
  /** The method in words with its source. */
  readonly methodText: string;
  readonly control: string | null;
  readonly confidence: number;
  readonly logScale: boolean;
  readonly levels: readonly ComparedLevel[];
  readonly pairs: readonly LevelPair[];
  readonly overall: OverallTest | null;
  /** Whether the levels scatter alike; null where it can't be told, and in models with other factors or blocks. */
  readonly scatter: UnequalScatter | null;
  /** The same in models with other factors or blocks, from what they leave over; null without them, and where it can't be told. */
  readonly scatterBeside: ScatterBeside | null;
  /** What else a reader should know, in words: what was averaged, which other method the evidence speaks for. */
  readonly notes: readonly string[];
}
