/** A layout that can't be made as asked: the message says what was given, what was expected, how to mend it. */
export class LayoutError extends Error {
  override readonly name = "LayoutError";
}

/** One thing in a plan that the machine, the cutter or the shop does not allow. */
export interface LimitFinding {
  /** Which limit: "spindle", "cutter", "feed speed", "passes", "minutes", "stock", "edges". */
  readonly limit: "spindle" | "cutter" | "feed speed" | "passes" | "minutes" | "stock" | "edges";
  /** The run that passes it first. */
  readonly run: number;
  /** One or two sentences: the run, what it asks, the limit, and the change that mends it. */
  readonly text: string;
}

/** A plan over a stated limit. Nothing has been written when this is thrown. */
export class LimitError extends Error {
  override readonly name = "LimitError";
  readonly findings: readonly LimitFinding[];

  constructor(findings: readonly LimitFinding[]) {
    super([...findings.map((finding) => finding.text), "Nothing was written."].join("\n"));
    this.findings = findings;
  }
}
