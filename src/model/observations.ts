import type { Setting } from "../trial/index.ts";

/** A factor as it was observed. */
export interface ObservedFactor {
  readonly name: string;
  readonly kind: "quantity" | "category";
  /** Unit label; empty for a category or where none was given. */
  readonly unit: string;
  /** Categories: level names, the reference level first. */
  readonly levels: readonly string[];
  /** Quantities: the ends of the coded scale (−1 and +1), natural units: the trial's low and high, else the range seen. */
  readonly low: number;
  readonly high: number;
  readonly scale: "linear" | "log";
  /** Quantities: the step that the machine sets it in, where the trial states one. */
  readonly increment?: number;
}

/** One row of an analysis: one run (the mean of its repeats), or one line of a file. */
export interface Observation {
  /** Run number, or line number of the data from 1. */
  readonly run: number;
  /** Place in cutting order, from 1. */
  readonly order: number;
  readonly block: number;
  readonly settings: Readonly<Record<string, Setting>>;
  /** The mean of the readings in use. */
  readonly value: number;
  /** How many readings stand behind `value`. */
  readonly readings: number;
  /** Every reading in use behind `value`, in its response's unit. */
  readonly single: readonly number[];
}

/** What a fit starts from: made by `observe(trial, "Ra")` or `observeTable(table, …)`. */
export interface Observations {
  readonly response: { readonly name: string; readonly unit: string };
  readonly factors: readonly ObservedFactor[];
  readonly rows: readonly Observation[];
  /** How the readings sit on the runs; null where each row is a single reading. */
  readonly repeats: RepeatScatter | null;
  /** What the numbers in `Observation.block` stand for; left out where the runs are in one block. */
  readonly blocks?: ObservedBlocks;
  /** How readings became rows, in words: what was averaged, which lines were left out. */
  readonly notes?: readonly string[];
  /** What rows share that varies by chance, for a mixed fit; left out where none was asked for. */
  readonly sources?: readonly ObservedSource[];
  /** True where each `value` is the mean of natural logarithms of its readings (`single` stays in the response's unit). */
  readonly logScale?: boolean;
}

/** The name of the blocks and of each of them; block 1 is the first name. */
export interface ObservedBlocks {
  readonly name: string;
  readonly levels: readonly string[];
}

/** A source of random variation: a day, a part, a set-up, a whole plot, the run that several readings were taken on. */
export interface ObservedSource {
  readonly name: string;
  readonly levels: readonly string[];
  /** The place in `levels` of each row's own, from 0. */
  readonly of: readonly number[];
}

/** Scatter of the readings on one surface beside the scatter from run to run (standard deviations, response's unit). */
export interface RepeatScatter {
  readonly readings: number;
  readonly runs: number;
  /** Pooled within spots (gauge and repeat); null where no spot has two readings. */
  readonly withinSpot: number | null;
  readonly withinSpotDf: number;
  /** Between spots on one surface beyond what the repeats explain (all of the scatter where a spot has one reading); null where no surface has two spots. */
  readonly betweenSpots: number | null;
  readonly betweenSpotsDf: number;
  /** Pooled within runs, spots and repeats together. */
  readonly withinRun: number | null;
  readonly withinRunDf: number;
  /** Between replicate runs at one setting beyond what the repeats explain; null without replicates. */
  readonly betweenRuns: number | null;
  readonly betweenRunsDf: number;
  /** Shares of the variance of a single reading, where they can be told; they sum to 1. */
  readonly shares: readonly { readonly source: "repeat" | "spot" | "run"; readonly share: number }[];
  /** True where the standard deviations are of natural logarithms. */
  readonly logScale: boolean;
  /** What can't be told and why, and which parts came out below zero and are given as zero. */
  readonly notes: readonly string[];
}
