import type { Question } from "./question.ts";

/** Where something is wrong; what is not known is left out. */
export interface Place {
  readonly file?: string;
  readonly line?: number;
  readonly run?: number;
  readonly field?: string;
}

/** A file, a reading or a change that was refused. The message says what was given, what was expected, how to mend it. */
export class StoreError extends Error {
  override readonly name = "StoreError";
  readonly file: string;
  readonly line: number | null;
  readonly run: number | null;
  readonly field: string;
  /** Where the matter can be read in several ways: the question, whose answer can be given with the next try. */
  readonly questions: readonly Question[];

  constructor(
    place: Place,
    message: string,
    { questions = [], cause }: { readonly questions?: readonly Question[]; readonly cause?: unknown } = {},
  ) {
    const where = placeText(place);
    super(where === "" ? message : `${where}: ${message}`, cause === undefined ? undefined : { cause });
    this.file = place.file ?? "";
    this.line = place.line ?? null;
    this.run = place.run ?? null;
    this.field = place.field ?? "";
    this.questions = questions;
  }
}

/** The one maker of errors of this folder. */
export function storeError(
  place: Place,
  message: string,
  options?: { readonly questions?: readonly Question[]; readonly cause?: unknown },
): StoreError {
  return new StoreError(place, message, options);
}

/** "readings.csv line 14, run 6, value". */
export function placeText({ file = "", line, run, field = "" }: Place): string {
  const fileAndLine = line === undefined ? file : `${file} line ${line}`.trim();
  return [fileAndLine, run === undefined ? "" : `run ${run}`, field].filter((part) => part !== "").join(", ");
}

/** A value as it was typed, cut short where it is long. */
export function quoted(text: string): string {
  return `"${text.length > 60 ? `${text.slice(0, 57)}…` : text}"`;
}

/** What went wrong, as text, whatever was thrown. */
export function messageOf(cause: unknown): string {
  return cause instanceof Error ? cause.message : String(cause);
}
