import { z } from "zod";
import { commonShape, wholeNumber } from "../common-options.ts";
import { constraintSchema } from "./constraints.ts";

const terms = z.array(z.record(z.string(), z.int().min(1).max(9)));
const namedTerms = z.enum(["main", "interactions", "surface"]);

export const optimalSchema = z.strictObject({
  kind: z.literal("optimal"),
  ...commonShape,
  /** Runs in all, those kept among them; left out, four more than the terms, so that some error is left. */
  runs: wholeNumber(2, 2000).optional(),
  /** D: the narrowest intervals of all terms together; I: the best predictions over the region; A: the least average variance of the terms. */
  criterion: z.enum(["D", "I", "A"]).default("D"),
  terms: z.union([namedTerms, terms]).default("interactions"),
  /** Terms that matter less: they are told apart only as far as runs are left. A named set stands for what it holds beyond `terms`. */
  lesserTerms: z.union([namedTerms, terms]).default([]),
  /** How large the lesser effects may be, in σ: the smaller, the less they weigh. */
  lesserSize: z.number().positive().default(1),
  constraints: z.array(constraintSchema).default([]),
  /** Runs that must be in the layout, such as those cut earlier. With several blocks they are the first block. */
  keep: z.array(z.record(z.string(), z.union([z.number(), z.string()]))).default([]),
  /**
   * How often the factors that are hard to change are set, beside runs that are kept; left out, four more than the terms in
   * hard factors alone need, and at least two runs to each setting.
   */
  wholePlots: wholeNumber(2, 1000).optional(),
  /** Variance between settings of the hard factors beside the variance between runs; 1 where nothing better is known. */
  varianceRatio: z.number().min(0).max(1e6).optional(),
  /** Left out, 40, or as many as take about a minute where the model is large. */
  starts: wholeNumber(1, 100_000).optional(),
});

export type OptimalOptions = z.output<typeof optimalSchema>;
