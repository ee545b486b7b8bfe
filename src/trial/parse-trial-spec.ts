import type { z } from "zod";
import { asGiven, trialError, type Problem } from "./error.ts";
import { factorProblems } from "./check-factors.ts";
import { settingProblems } from "./check-settings.ts";
import { nearestName } from "./nearest-name.ts";
import { knownKeys, trialSchema } from "./schema.ts";
import type { TrialSpec } from "./trial.ts";

/**
 * The contents of a trial.json, checked, with the defaults filled in. Use it on whatever comes from outside.
 *
 * `json` is what JSON.parse gave; `file` stands in the messages. Only `factors` and `layout` must be there; units may be
 * typed as people type them ("um") and come back canonical; quantities written as text are checked for their dimension
 * and stay as typed. The options of `layout` are checked by the layout itself when it is laid out.
 *
 * Refused with a {@link TrialError} that tells every problem with its path: unknown keys (with the nearest known one),
 * wrong units, low at or above high, levels outside the range, fewer than two levels, names that can't head a column.
 *
 * @example parseTrialSpec({ factors: [{ name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 }],
 *   layout: { kind: "sweep" } }).factors[0].scale // "linear"
 */
export function parseTrialSpec(json: unknown, file = "trial.json"): TrialSpec {
  const parsed = trialSchema.safeParse(json);
  if (!parsed.success)
    throw trialError(
      file,
      parsed.error.issues.flatMap((issue) => problemsOf(issue, json)),
    );
  const inFactors = factorProblems(parsed.data);
  // Settings are only worth checking against factors that are right.
  const problems = inFactors.length > 0 ? inFactors : settingProblems(parsed.data);
  if (problems.length > 0) throw trialError(file, problems);
  return parsed.data;
}

/** The same from the text of the file; a slip in the JSON itself is told with its line and column. */
export function parseTrialText(text: string, file = "trial.json"): TrialSpec {
  return parseTrialSpec(readJson(text, file), file);
}

/** JSON.parse with a message that names the line; used for trial.json where the raw contents are needed too. */
export function readJson(text: string, file: string): unknown {
  try {
    return JSON.parse(text.replace(/^\ufeff/, "")) as unknown;
  } catch (cause) {
    const message = cause instanceof Error ? cause.message : String(cause);
    const offset = Number(/position (\d+)/.exec(message)?.[1] ?? text.length);
    const before = text.slice(0, offset).split("\n");
    const column = (before[before.length - 1] ?? "").length + 1;
    const given = offset >= text.length ? "the end of the text" : asGiven(text.slice(offset, offset + 20));
    const path = `line ${before.length}, column ${column}`;
    const mend = "Look there for a missing comma, quote or brace, or a comma before a closing brace.";
    throw trialError(file, [{ path, given, expected: "valid JSON", mend }], cause);
  }
}

function problemsOf(issue: z.core.$ZodIssue, json: unknown): readonly Problem[] {
  const path = pathText(issue.path);
  const given = valueAt(json, issue.path);
  if (issue.code === "unrecognized_keys") {
    const kind = typeof given === "object" && given !== null && "kind" in given ? given.kind : undefined;
    const known = knownKeys(pathText(issue.path).replace(/\[\d+\]/g, ""), kind);
    return issue.keys.map((key) => unknownKey(path, key, known));
  }
  const bar = issue.message.indexOf("|");
  const expected = bar < 0 ? issue.message : issue.message.slice(0, bar);
  return [{ path, given: asGiven(given), expected, mend: bar < 0 ? "" : issue.message.slice(bar + 1) }];
}

function unknownKey(path: string, key: string, known: readonly string[]): Problem {
  const near = nearestName(key, known);
  const mend = near === null ? "Remove it; words of your own belong under held." : `Did you mean "${near}"?`;
  return {
    path: path === "" ? key : `${path}.${key}`,
    given: `the unknown key "${key}"`,
    expected: `one of ${known.join(", ")}`,
    mend,
  };
}

function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>((text, key) => {
    if (typeof key === "number") return `${text}[${key}]`;
    return text === "" ? String(key) : `${text}.${String(key)}`;
  }, "");
}

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (value, key) =>
      typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined,
    json,
  );
}
