import { z } from "zod";
import { commonShape, readOptions, wholeNumber } from "../common-options.ts";
import { LayoutError } from "../error.ts";
import { listed } from "../../units/index.ts";

const term = z.record(z.string(), z.int().min(1).max(30));
const settings = z.record(z.string(), z.union([z.number(), z.string()]));

/** What every way takes; the defaults stand here and nowhere else. */
const common = {
  /** "new": a later day or edge, with a level of its own in the analysis; "last": cut on at once, nothing changed. */
  block: z.enum(["new", "last"]).default("new"),
  /** How many runs at one setting that was cut before are cut again beside the others, to tie the new block to the first. */
  tie: wholeNumber(0, 100).default(0),
  order: commonShape.order,
  seed: commonShape.seed,
  /** The response that `sigma` belongs to; the trial's first where it is left out. */
  response: z.string().optional(),
  /** Scatter from run to run in the response's unit; left out, everything is told in multiples of it. */
  sigma: z.number().positive().optional(),
  /** Of the intervals. */
  confidence: z.number().gt(0).lt(1).default(0.95),
  /** What the addition is judged by; each way has a set of its own where it is left out. */
  terms: z.array(term).optional(),
};

const fold = z.strictObject({
  by: z.literal("fold"),
  ...common,
  /** Which factors are turned over: all, or those named. */
  factors: z.union([z.literal("all"), z.array(z.string()).min(1)]).default("all"),
});

const axial = z.strictObject({
  by: z.literal("axial"),
  ...common,
  /** How far out the axial runs stand, the corners at ±1. */
  axial: z
    .union([z.enum(["block-orthogonal", "rotatable", "face"]), z.number().positive().max(10)])
    .default("block-orthogonal"),
  centrePoints: wholeNumber(0, 100).default(3),
  /** Whether axial runs may stand outside low and high: "corners" when low and high are the corners only, "limits" when nothing may be cut beyond them. */
  range: z.enum(["corners", "limits"]).default("corners"),
});

const effect = z.union([z.string().min(1), term]);

const replicate = z.strictObject({
  by: z.literal("replicate"),
  ...common,
  /** What is to be known better: an effect ("feed", "feed × speed", or a term), or the mean at a setting. */
  question: z.union([z.strictObject({ effect }), z.strictObject({ at: settings })]),
  /** So many runs; left out, four, or as many as `halfWidth` needs. */
  runs: wholeNumber(1, 100).optional(),
  /** As narrow as the answer is to be, with the fewest runs. */
  halfWidth: z.number().positive().optional(),
});

const separate = z.strictObject({
  by: z.literal("separate"),
  ...common,
  /** Explanations that are to be told apart: "A = BC", or a list of effects, terms, or lists of them. */
  between: z.union([z.string().min(1), z.array(z.union([effect, z.array(effect).min(1)])).min(2)]),
});

const proof = z.strictObject({
  by: z.literal("proof"),
  ...common,
  /** The recipe's setting. */
  at: settings,
  /** By which figure the proof runs pass or fail. */
  rule: z.enum(["parts", "mean", "share"]).default("share"),
  /** Left out: the limit of the trial's response, and the side that its aim tells. */
  limit: z.number().optional(),
  side: z.enum(["at-most", "at-least"]).optional(),
  log: z.boolean().default(false),
  goodMean: z.number().optional(),
  badMean: z.number().optional(),
  goodShare: z.number().default(0.99),
  badShare: z.number().default(0.8),
  failGood: z.number().default(0.05),
  passBad: z.number().default(0.05),
  atMost: wholeNumber(2, 1000).default(100),
});

const shapes = { fold, axial, replicate, separate, proof };

/** How a trial is grown, checked and with its defaults. */
export type How = z.output<(typeof shapes)[keyof typeof shapes]>;
/** How a trial is to be grown, as it is written. */
export type HowAsked = z.input<(typeof shapes)[keyof typeof shapes]>;
export type HowBy<By extends How["by"]> = Extract<How, { by: By }>;

/** The ways of growing a trial. */
export const ways = Object.keys(shapes) as readonly How["by"][]; // the keys of a literal

/** Reads how a trial is to be grown; every fault is a sentence that names the field. */
export function readHow(raw: unknown): How {
  const by = typeof raw === "object" && raw !== null && "by" in raw ? raw.by : undefined;
  const way = ways.find((name) => name === by);
  if (way === undefined) {
    throw new LayoutError(
      `grow: ${by === undefined ? "no way of growing was given" : `${JSON.stringify(by)} is not a way of growing a trial`}. Take ${listed(ways, "or")}.`,
    );
  }
  return readOptions(way, shapes[way] as z.ZodObject, raw, "grow") as How; // each shape gives its own member of How
}
