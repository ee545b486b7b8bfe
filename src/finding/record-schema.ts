import { z } from "zod";
import { findingFormat } from "./finding-record.ts";

const finite = z.number();
const whole = z.int().min(1);
const setting = z.union([finite, z.string()]);
const roles = ["corner", "level", "centre", "axial", "edge", "anchor", "given", "added", "proof"] as const;

const run = z.strictObject({
  run: whole,
  standard: z.int(),
  block: whole,
  role: z.enum(roles),
  settings: z.record(z.string(), setting),
  texts: z.record(z.string(), z.string()).optional(),
  wholePlot: whole.optional(),
});

const asCut = z.strictObject({
  run: whole,
  factor: z.string(),
  value: setting,
  unit: z.string(),
  reason: z.string(),
  text: z.string().optional(),
});

const reading = z.strictObject({
  run: whole,
  response: z.string(),
  value: finite,
  unit: z.string(),
  spot: whole,
  repeat: whole,
  taken: z.string(),
  note: z.string(),
  void: z.string(),
  text: z.string().optional(),
});

const coefficient = z.looseObject({
  term: z.record(z.string(), finite),
  label: z.string(),
  estimate: finite,
  standardError: finite.nullable(),
  low: finite.nullable(),
  high: finite.nullable(),
  df: finite,
  p: finite.nullable(),
});

/** As much of a model as is read again; what else stands in it is kept as it is. */
const model = z.looseObject({
  kind: z.enum(["linear", "power-law"]),
  model: z.string(),
  logScale: z.boolean(),
  confidence: finite,
  unit: z.string(),
  why: z.string(),
  coefficients: z.array(coefficient),
  residualSd: finite.nullable(),
  residualDf: finite,
});

/** A model as it came with a page. */
export type ReceivedModel = z.infer<typeof model>;

/** The block of data in a page, as far as it is no `trial.json`; that has a schema of its own. */
export const recordSchema = z.strictObject({
  format: z.literal(findingFormat),
  published: z.iso.date(),
  softwareVersion: z.string(),
  checksum: z.string().regex(/^[0-9a-f]{64}$/),
  trial: z.strictObject({
    name: z.string(),
    spec: z.unknown(),
    runs: z.array(run),
    asCut: z.array(asCut),
    readings: z.array(reading),
  }),
  models: z.record(z.string(), model),
});
