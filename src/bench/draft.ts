import { z } from "zod";

// What the form for a new trial holds: text as it was typed, so that a unit may be typed with any number.
const typed = z.string().max(2_000);
const typedMap = z.record(z.string().max(60), typed);

const responseDraft = z.strictObject({
  name: typed,
  unit: typed,
  aim: z.enum(["smaller", "larger", "target"]),
  limit: typed,
});

const factorDraft = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("quantity"),
    name: typed,
    unit: typed,
    low: typed,
    high: typed,
    levels: typed,
    scale: z.enum(["linear", "log"]),
    increment: typed,
    change: z.enum(["easy", "hard"]),
    /** Today's setting, against which a recipe is compared. */
    today: typed,
  }),
  z.strictObject({
    kind: z.literal("category"),
    name: typed,
    levels: typed,
    change: z.enum(["easy", "hard"]),
    today: typed,
  }),
]);

export const draftSchema = z.strictObject({
  /** The name of the folder. */
  name: typed,
  title: typed,
  question: typed,
  dataKind: z.enum(["measured", "published", "invented"]),
  source: typed,
  display: z.enum(["metric", "inch"]),
  responses: z.array(responseDraft).max(50),
  factors: z.array(factorDraft).max(50),
  held: z.array(z.strictObject({ name: typed, value: typed })).max(100),
  cutter: typedMap,
  machine: typedMap,
  pass: typedMap,
  budget: typedMap,
  measurement: typedMap,
  layout: z.strictObject({ kind: typed, options: typedMap }),
});

/** A trial as it stands in the form. */
export type Draft = z.output<typeof draftSchema>;
export type FactorDraft = Draft["factors"][number];
export type ResponseDraft = Draft["responses"][number];

/** What to judge a layout for: all as typed, empty where not known. */
export const outlookSchema = z.strictObject({
  /** A guess of the scatter from run to run, or from where to where: "0.03 to 0.06". */
  sigma: typed,
  /** The smallest change worth knowing. */
  effect: typed,
  confidence: typed,
  model: z.enum(["main", "interactions", "surface"]),
  /** What the trial is to answer. */
  stake: z.enum(["which-matter", "how-they-combine", "how-curved", "best-setting"]).default("which-matter"),
});

export type OutlookDraft = z.output<typeof outlookSchema>;
