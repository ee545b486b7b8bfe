/** How runs were chosen that were added to a plan. */
export interface AddedHow {
  /** The way of growing, such as "fold". */
  readonly by: string;
  /** Its options, with defaults and seed: the same trial and options give the same runs. */
  readonly options: Readonly<Record<string, unknown>>;
  /** What was said of them when they were added: what they bring, or the rule of proof runs. */
  readonly says: readonly string[];
}

/** Runs that were added after a plan was first laid out. */
export interface AddedRuns {
  /** The first and the last of them. */
  readonly from: number;
  readonly to: number;
  /** ISO 8601. */
  readonly at: string;
  /** How many readings (voided ones too) stood in the trial then: above 0, the runs were chosen by people who could look at data. */
  readonly readingsBefore: number;
  /** Null where the runs were given one by one. */
  readonly how: AddedHow | null;
}
