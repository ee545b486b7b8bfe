import { z } from "zod";
import type { AsCut, Run } from "../trial/index.ts";
import type { Dialect } from "./dialect.ts";
import { trialFiles, type TrialFile } from "./trial-files.ts";

const count = z.int().min(1);
const setting = z.union([z.number(), z.string()]);

const run: z.ZodType<Run> = z.object({
  run: count,
  standard: count,
  block: count,
  role: z.enum(["corner", "level", "centre", "axial", "edge", "anchor", "given", "added", "proof"]),
  settings: z.record(z.string(), setting),
  texts: z.record(z.string(), z.string()).optional(),
  wholePlot: count.optional(),
});

const asCut: z.ZodType<AsCut> = z.object({
  run: count,
  factor: z.string(),
  value: setting,
  unit: z.string(),
  reason: z.string(),
  text: z.string().optional(),
});

// Rows of readings are checked one by one by `readingOf`, which is ten times as fast on thousands of them.
const rows = z.array(z.unknown());
const key = z.tuple([count, z.string(), count, count]);
const whole = { specText: z.string(), runs: z.array(run), asCut: z.array(asCut), readings: rows };

const change = z.discriminatedUnion("kind", [
  /** The trial's folder was made. */
  z.object({ kind: z.literal("created"), ...whole }),
  /** A folder without a journal was taken over as its files stood. */
  z.object({ kind: z.literal("adopted"), ...whole }),
  z.object({ kind: z.literal("laid-out"), runs: z.array(run) }),
  z.object({
    kind: z.literal("runs-added"),
    runs: z.array(run),
    /** How they were chosen; left out for runs given one by one. */
    how: z
      .object({
        by: z.string(),
        options: z.record(z.string(), z.unknown()),
        says: z.array(z.string()),
      })
      .optional(),
  }),
  z.object({ kind: z.literal("recorded"), readings: rows, note: z.string() }),
  z.object({
    kind: z.literal("imported"),
    source: z.string(),
    readings: rows,
    asCut: z.array(asCut),
    note: z.string(),
  }),
  z.object({ kind: z.literal("voided"), readings: z.array(key), reason: z.string() }),
  z.object({ kind: z.literal("void-taken-back"), readings: z.array(key), reason: z.string() }),
  z.object({ kind: z.literal("cut-otherwise"), asCut: z.array(asCut) }),
  z.object({ kind: z.literal("spec-changed"), specText: z.string(), runs: z.array(run) }),
  /** A file was changed by hand; `changed` holds each reading before and after. */
  z.object({
    kind: z.literal("edited-by-hand"),
    file: z.enum(trialFiles),
    summary: z.string(),
    specText: z.string().optional(),
    runs: z.array(run).optional(),
    asCut: z.array(asCut).optional(),
    added: rows.optional(),
    changed: z.array(z.tuple([z.unknown(), z.unknown()])).optional(),
    removed: z.array(key).optional(),
  }),
  z.object({ kind: z.literal("reviewed"), checksum: z.string(), note: z.string() }),
  z.object({ kind: z.literal("published"), checksum: z.string(), file: z.string() }),
  /** Files that could not be rewritten after a change (open in another program): they are older than the journal. */
  z.object({ kind: z.literal("files-behind"), behind: z.array(z.enum(trialFiles)) }),
]);

const dialect: z.ZodType<Dialect> = z.object({
  delimiter: z.enum([",", ";", "\t"]),
  decimal: z.enum(["point", "comma"]),
  bom: z.boolean(),
  newline: z.enum(["\n", "\r\n"]),
});

/** What one line of the journal says, without its number and checksum. */
export const entrySchema = z.object({
  at: z.string(),
  change,
  /** SHA-256 of each file that the change writes, as it will stand. */
  files: z.partialRecord(z.enum(trialFiles), z.string()),
  /** SHA-256 of a file edited by hand, as it was found. */
  found: z.partialRecord(z.enum(trialFiles), z.string()).optional(),
  /** How a file is written, where its spreadsheet wrote it otherwise than Trycut does. */
  dialects: z.partialRecord(z.enum(trialFiles), dialect).optional(),
});

export type Change = z.infer<typeof change>;

/** A change as the journal keeps it. */
export interface Entry extends z.infer<typeof entrySchema> {
  /** From 1, without gaps. */
  readonly sequence: number;
}

/** Which files a kind of change rewrites. */
export const filesOfChange: Readonly<Record<Change["kind"], readonly TrialFile[]>> = {
  created: trialFiles,
  adopted: [],
  "laid-out": ["plan.csv"],
  "runs-added": ["plan.csv"],
  recorded: ["readings.csv"],
  imported: ["readings.csv", "as-cut.csv"],
  voided: ["readings.csv"],
  "void-taken-back": ["readings.csv"],
  "cut-otherwise": ["as-cut.csv"],
  "spec-changed": ["trial.json", "plan.csv"],
  "edited-by-hand": [],
  reviewed: [],
  published: [],
  "files-behind": [],
};
