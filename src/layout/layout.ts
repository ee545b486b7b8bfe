import type { z } from "zod";
import type { Factor, Run, RunRole, Settings } from "../trial/index.ts";

/** One run before it has a place in cutting order. */
export interface StandardRun {
  /** From 1, in the layout's standard order. */
  readonly standard: number;
  /** From 1. */
  readonly block: number;
  readonly role: RunRole;
  readonly settings: Settings;
}

/** What a kind of layout returns, before ordering. */
export interface StandardLayout {
  readonly runs: readonly StandardRun[];
  /** Fractions: such as "D = ABC" in factor names. */
  readonly generators?: readonly string[];
  readonly definingRelation?: readonly string[];
  readonly resolution?: number;
  readonly aliases?: readonly string[];
  /** True where the kind has fixed the cutting order itself, anchors included (see `sweep`). */
  readonly ordered?: boolean;
  readonly notes: readonly string[];
}

/** Options that every kind takes; each kind's schema extends them. */
export interface CommonOptions {
  readonly kind: string;
  readonly replicates: number;
  readonly centrePoints: number;
  readonly blocks: number;
  readonly order: "random" | "drift-proof" | "as-listed";
  readonly seed: number;
}

/** A member of the family: one file, one entry in `kinds.ts`. */
export interface LayoutKind<Options extends CommonOptions = CommonOptions> {
  readonly kind: string;
  /** One sentence: when to use it. */
  readonly summary: string;
  /** Strict: an unknown option is refused by name. Defaults are stated here and nowhere else. */
  readonly options: z.ZodType<Options>;
  readonly layOut: (factors: readonly Factor[], options: Options) => StandardLayout;
}

/** A layout in cutting order. */
export interface Layout extends Omit<StandardLayout, "runs"> {
  readonly kind: string;
  readonly options: CommonOptions;
  readonly runs: readonly Run[];
  /** One readable sentence for each rule that the order obeys. */
  readonly orderRules: readonly string[];
}
