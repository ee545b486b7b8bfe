/** One thing that is wrong in a trial, with the way out. */
export interface Problem {
  /** Where: a JSON path such as "factors[0].low", or a run and a field such as "run 6, feed". */
  readonly path: string;
  readonly given: string;
  readonly expected: string;
  readonly mend: string;
}

/** A trial that was refused. All that is wrong is told at once: one line of the message for each problem. */
export class TrialError extends Error {
  override readonly name = "TrialError";
  /** The file that was read; empty where the trial did not come from a file. */
  readonly file: string;
  readonly problems: readonly Problem[];

  constructor(file: string, problems: readonly Problem[], options?: { readonly cause?: unknown }) {
    super(problems.map((problem) => lineOf(file, problem)).join("\n"), options);
    this.file = file;
    this.problems = problems;
  }
}

/** The one maker of errors of this folder. */
export function trialError(file: string, problems: readonly Problem[], cause?: unknown): TrialError {
  return new TrialError(file, problems, cause === undefined ? undefined : { cause });
}

/** What was given, as a person would recognise it: JSON, cut short where it is long. */
export function asGiven(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

function lineOf(file: string, { path, given, expected, mend }: Problem): string {
  const place = [file, path].filter((part) => part !== "").join(", ");
  const found = given === "nothing" ? "is missing" : `got ${given}`;
  return `${place}${place === "" ? "" : given === "nothing" ? " " : ": "}${found}; expected ${expected}. ${mend}`.trimEnd();
}
