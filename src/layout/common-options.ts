import { listed } from "../units/index.ts";
import { z } from "zod";
import { LayoutError } from "./error.ts";
import { orderShape, type OrderOptions } from "./order/order-options.ts";

/** Options that every kind takes; each kind's own stand beside them. */
export interface CommonOptions extends OrderOptions {
  readonly kind: string;
  readonly replicates: number;
  /** Undefined where it was left out and the kind has a number of its own for each case. */
  readonly centrePoints?: number | undefined;
  readonly blocks: number;
  readonly order: "random" | "drift-proof" | "fewest-changes" | "as-listed";
  readonly seed: number;
}

/** What decides the order of runs that are laid out already. */
export type OrderingOptions = Pick<CommonOptions, "order" | "seed"> & OrderOptions;

/** More runs than any shop cuts; a request above it is stopped before it fills the memory. */
export const MOST_RUNS = 20_000;

export function wholeNumber(least: number, most: number) {
  return z.int().min(least).max(most);
}

/** The defaults of the common options stand here and nowhere else; a kind that needs another default states its own. */
export const commonShape = {
  /** How many times each run is cut afresh. */
  replicates: wholeNumber(1, 1000).default(1),
  /** Runs at the middle of every quantity; with categories, so many at each combination of their levels. */
  centrePoints: wholeNumber(0, 1000).default(0),
  /** Groups of runs cut under like conditions: one edge, one shift, one blank. */
  blocks: wholeNumber(1, 1000).default(1),
  order: z.enum(["random", "drift-proof", "fewest-changes", "as-listed"]).default("random"),
  /** Where the random numbers start; the same seed gives the same plan. */
  seed: wholeNumber(0, 2 ** 31 - 1).default(1),
  ...orderShape,
};

/** Reads a kind's options; every fault is a sentence with its path, what was given and what was expected. */
export function readOptions<Schema extends z.ZodObject>(
  kind: string,
  schema: Schema,
  raw: unknown,
  place = "layout",
): z.output<Schema> {
  const result = schema.safeParse(raw);
  if (result.success) return result.data;
  const known = Object.keys(schema.shape).sort();
  throw new LayoutError(
    result.error.issues.map((issue) => issueText({ kind, place, known, raw }, issue)).join("\n"),
    { cause: result.error },
  );
}

interface Read {
  readonly kind: string;
  /** What the options belong to, as messages begin: "layout", "grow". */
  readonly place: string;
  readonly known: readonly string[];
  readonly raw: unknown;
}

function issueText({ kind, place, known, raw }: Read, issue: z.core.$ZodIssue): string {
  if (issue.code === "unrecognized_keys" && issue.path.length === 0) {
    const names = issue.keys.map((key) => `"${key}"`);
    return `${place}: ${listed(names)} ${names.length > 1 ? "are not options" : "is not an option"} of "${kind}". It takes ${listed(known.filter((name) => name !== "kind" && name !== "by"))}.`;
  }
  const path = [place, ...issue.path.map(String)].join(".");
  return `${path}: expected ${expected(issue)}, got ${given(raw, issue.path)}.`;
}

/** What would have been accepted, in words. */
function expected(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return issue.expected === "int"
        ? "a whole number"
        : issue.expected === "array"
          ? "a list"
          : `a ${issue.expected}`;
    case "too_small":
      return issue.origin === "array"
        ? `at least ${issue.minimum} entries`
        : `a number from ${issue.minimum}`;
    case "too_big":
      return issue.origin === "array"
        ? `at most ${issue.maximum} entries`
        : `a number up to ${issue.maximum}`;
    case "invalid_value":
      return listed(
        issue.values.map((value) => JSON.stringify(value)),
        "or",
      );
    case "invalid_union":
      // A union whose forms don't explain themselves brings its own words.
      if (issue.message !== "Invalid input") return issue.message;
      return listed(
        issue.errors.flatMap((branch) => branch.slice(0, 1).map(expected)),
        "or",
      );
    case "unrecognized_keys":
      return `no ${listed(
        issue.keys.map((key) => `"${key}"`),
        "or",
      )} here`;
    default:
      return `something else (${issue.message})`;
  }
}

function given(raw: unknown, path: readonly PropertyKey[]): string {
  let value: unknown = raw;
  for (const key of path) {
    if (typeof value !== "object" || value === null) return "nothing";
    value = (value as Readonly<Record<PropertyKey, unknown>>)[key];
  }
  return value === undefined ? "nothing" : JSON.stringify(value);
}
