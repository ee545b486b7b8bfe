import type { Setting } from "../../trial/index.ts";
import type { Uncertain } from "../fit.ts";
import type { FittedChange } from "./fitted-change.ts";

/** What going from one setting to another does to a response. */
export interface Contrast {
  readonly from: Readonly<Record<string, Setting>>;
  /** With what stays as it is in `from`. */
  readonly to: Readonly<Record<string, Setting>>;
  /** `difference` in the response's unit; `ratio` where its logarithm was fitted. */
  readonly as: "difference" | "ratio";
  readonly value: Uncertain;
  /** On the scale that was fitted; null where there is no interval. */
  readonly standardError: number | null;
  readonly df: number | null;
  readonly p: number | null;
  readonly confidence: number;
  /** Factors that were not named and on which the answer depends, where they stand. */
  readonly stands: FittedChange["stands"];
  /** Factors that stand outside what was cut. */
  readonly extrapolation: readonly string[];
  /** In the shop's words, with the interval; or that no difference was seen and what could have been missed. */
  readonly sentence: string;
}
