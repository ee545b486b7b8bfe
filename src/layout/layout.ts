import type { PassConditions } from "../cutting/index.ts";
import type { Factor, Run, RunRole, Settings } from "../trial/index.ts";
import type { CommonOptions } from "./common-options.ts";
import type { ErrorStrata } from "./judge/error-strata.ts";
import type { Stratum } from "./split-plot/strata.ts";

/** One run before it has a place in cutting order. */
export interface StandardRun {
  /** From 1, in the layout's standard order. */
  readonly standard: number;
  /** From 1. */
  readonly block: number;
  readonly role: RunRole;
  readonly settings: Settings;
  /**
   * The whole plot that the run belongs to, where the kind decides it: runs of one number are cut on one set-up of the hard
   * factors. Any whole numbers that differ from plot to plot; a whole plot stays within its block.
   */
  readonly wholePlot?: number;
}

/** A run at one fixed setting that returns all through the trial, so that drift can be read off it. */
export interface Anchor {
  readonly settings: Settings;
  /** One anchor first, one after every so many runs, one last. */
  readonly every: number;
}

/** What a kind of layout returns, before ordering. */
export interface StandardLayout {
  readonly runs: readonly StandardRun[];
  readonly anchor?: Anchor;
  /** Fractions: such as "D = ABC" in factor names. */
  readonly generators?: readonly string[];
  readonly definingRelation?: readonly string[];
  readonly resolution?: number;
  readonly aliases?: readonly string[];
  /** What a user of this layout should know: what was rounded, held, confounded with blocks. */
  readonly notes: readonly string[];
}

/** Why settings may not be cut, or null where they may. */
export type Predicate = (settings: Settings) => string | null;

/** What a kind may need to know beyond factors and options. */
export interface LayoutContext {
  /** What a run is cut with; missing where only factors and layout are given. */
  readonly conditions?: ((settings: Settings) => PassConditions) | undefined;
  /** Constraints given as functions, beside those written in the options. */
  readonly predicates: readonly Predicate[];
}

/** A member of the family: one file, one entry in `kinds.ts`. Made with `defineKind`. */
export interface LayoutKind {
  readonly kind: string;
  /** One sentence: when to use it. */
  readonly summary: string;
  /** The names of the options it takes, sorted. */
  readonly known: readonly string[];
  /** Checks the options (an unknown one is refused by name), then lays out. */
  readonly layOut: (
    factors: readonly Factor[],
    options: unknown,
    context: LayoutContext,
  ) => { readonly options: CommonOptions; readonly standard: StandardLayout };
}

/** A layout in cutting order. */
export interface Layout extends Omit<StandardLayout, "runs" | "anchor"> {
  readonly kind: string;
  readonly options: CommonOptions;
  readonly runs: readonly Run[];
  /** One readable sentence for each rule that the order obeys. */
  readonly orderRules: readonly string[];
  /** Which runs share a block and a whole plot, the coarsest first, the runs themselves last. */
  readonly strata: readonly Stratum[];
  /** Where a factor is hard to change: how each term will be tested (main effects, and products of two where the runs tell them). */
  readonly analysis?: ErrorStrata;
}
