import type { Settings } from "../trial/index.ts";

/** Something noticed in a trial, with its evidence and the smallest mend. */
export interface Remark {
  /** What kind of thing: kebab-case, such as "moved-together", "order-follows-factor". */
  readonly kind: string;
  readonly weight: "caution" | "note";
  /** One sentence: what the data can't say, or what looks wrong. */
  readonly title: string;
  /** The numbers behind it. */
  readonly evidence: string;
  /** The smallest thing that mends it. */
  readonly mend: string;
  /** Run numbers that it is about. */
  readonly runs: readonly number[];
  /** Runs that would mend it; they can be added to the plan. */
  readonly addRuns: readonly Settings[];
}
