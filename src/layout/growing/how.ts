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

const shapes = { fold, axial };

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

export { settings as settingsShape };
