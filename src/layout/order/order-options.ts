import { z } from "zod";
import type { Term } from "../../model/index.ts";

/** How long one edge, shift or part lasts: so many passes, so many minutes, or whichever ends first. */
export interface Lasts {
  readonly passes?: number | undefined;
  /** Of an edge and a part: minutes of cut. Of a shift: minutes by the clock, those between passes among them. */
  readonly minutes?: number | undefined;
}

/** What changes while a trial is cut; every change is a border between blocks. */
export type BorderKind = "edge" | "shift" | "part";

/** Large changes of one factor, and how many of them an order may have. */
export interface LargeChanges {
  readonly factor: string;
  /** A change by this ratio or more is large. */
  readonly ratio?: number | undefined;
  /** A change by this much or more is large, in the factor's unit. */
  readonly step?: number | undefined;
  readonly most: number;
}

/** Options about the order of runs; every kind takes them. */
export interface OrderOptions {
  /** Terms that drift and borders are kept out of; the main effects where it is left out. */
  readonly protect?: readonly Term[] | undefined;
  readonly borders?: Readonly<Partial<Record<BorderKind, Lasts | undefined>>> | undefined;
  /** Passes cut first, so that the machine is warm. Analysed, they are the first block; else they stand before run 1. */
  readonly warmUp?: { readonly passes: number; readonly analysed: boolean } | undefined;
  /** For the order "fewest-changes": what a change of each factor costs, and what drift may do to a protected term. */
  readonly changes?:
    | {
        readonly weights: Readonly<Record<string, number>>;
        readonly allowedCorrelation: number;
      }
    | undefined;
  readonly largeChanges?: readonly LargeChanges[] | undefined;
}

const lasts = z
  .strictObject({
    passes: z.int().min(1).max(100_000).optional(),
    minutes: z.number().positive().optional(),
  })
  .optional();

/** The shape of the options about order; their defaults stand here and nowhere else. */
export const orderShape = {
  protect: z
    .array(z.record(z.string(), z.int().min(1).max(9)))
    .min(1)
    .max(500)
    .optional(),
  borders: z.strictObject({ edge: lasts, shift: lasts, part: lasts }).optional(),
  warmUp: z
    .strictObject({ passes: z.int().min(1).max(1000), analysed: z.boolean().default(false) })
    .optional(),
  changes: z
    .strictObject({
      weights: z.record(z.string(), z.number().min(0).max(1e6)).default({}),
      allowedCorrelation: z.number().min(0).max(1).default(0.1),
    })
    .optional(),
  largeChanges: z
    .array(
      z.strictObject({
        factor: z.string(),
        ratio: z.number().gt(1).optional(),
        step: z.number().positive().optional(),
        most: z.int().min(0).max(100_000),
      }),
    )
    .min(1)
    .max(20)
    .optional(),
};
