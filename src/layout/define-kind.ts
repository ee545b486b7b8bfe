import type { z } from "zod";
import type { Factor } from "../trial/index.ts";
import { MOST_RUNS, readOptions, type CommonOptions } from "./common-options.ts";
import { LayoutError } from "./error.ts";
import type { LayoutContext, LayoutKind, StandardLayout } from "./layout.ts";

/** A strict schema that holds the common options beside the kind's own. */
export type OptionsSchema = z.ZodObject & z.ZodType<CommonOptions>;

/**
 * Makes a member of the family of layouts. Its options are checked before `layOut` sees them; defaults stand in the schema
 * and nowhere else. `schema` is a strict object: `z.strictObject({ kind: z.literal("sweep"), ...commonShape, … })`.
 */
export function defineKind<Schema extends OptionsSchema>(member: {
  readonly kind: string;
  readonly summary: string;
  readonly schema: Schema;
  readonly layOut: (
    factors: readonly Factor[],
    options: z.output<Schema>,
    context: LayoutContext,
  ) => StandardLayout;
}): LayoutKind {
  return {
    kind: member.kind,
    summary: member.summary,
    known: Object.keys(member.schema.shape)
      .filter((name) => name !== "kind")
      .sort(),
    layOut: (factors, raw, context) => {
      const options = readOptions(member.kind, member.schema, raw);
      return { options, standard: member.layOut(factors, options, context) };
    },
  };
}

/**
 * Called before runs are made, so that a huge request is stopped before memory is. `once` is the runs of one replicate; where
 * even that is too many, `mend` says what to change.
 */
export function refuseTooManyRuns(
  kind: string,
  once: number,
  replicates: number,
  mend = "Take fewer factors or levels.",
): void {
  const runs = once * replicates;
  if (runs <= MOST_RUNS) return;
  const most = Math.floor(MOST_RUNS / once);
  throw new LayoutError(
    `layout "${kind}": ${runs.toLocaleString("en")} runs are more than the ${MOST_RUNS.toLocaleString("en")} that can be laid out. ${most >= 1 ? `Take at most ${most.toLocaleString("en")} replicate${most === 1 ? "" : "s"}.` : mend}`,
  );
}
