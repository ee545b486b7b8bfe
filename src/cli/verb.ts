import type { ParseArgsConfig } from "node:util";

/** Where a verb writes and from where it reads; passed in so that tests can look. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
  /** The folder the command was called in. */
  readonly folder: string;
  /** Columns of the screen. */
  readonly width: number;
  readonly now: () => Date;
  /** Aborted when the person asks the command to stop. */
  readonly signal: AbortSignal;
}

export type OptionValues = Readonly<
  Record<string, string | boolean | readonly (string | boolean)[] | undefined>
>;

/** What the person typed, once the options are known to exist. */
export interface Call {
  readonly words: readonly string[];
  readonly options: OptionValues;
  readonly json: boolean;
}

/** One word of the command line: one file in `verbs/`, one line in `verbs/index.ts`. */
export interface Verb {
  readonly name: string;
  /** One line for the overview. */
  readonly summary: string;
  /** The whole help text, usage first. */
  readonly help: string;
  readonly options: NonNullable<ParseArgsConfig["options"]>;
  /** How many words may follow the verb: fewest and most. */
  readonly words: readonly [number, number];
  /** Returns the exit code: 0 done, 1 refused. */
  readonly run: (call: Call, terminal: Terminal) => Promise<number>;
}
