import type { Setting } from "../../trial/index.ts";

/** How far a fit goes from one place to another, on the scale that was fitted. */
export interface FittedChange {
  /** Null where it can't be told; `reason` says why. */
  readonly estimate: number | null;
  /** Null where there is no interval; `reason` says why. */
  readonly standardError: number | null;
  readonly df: number | null;
  /** Empty where there is an interval. */
  readonly reason: string;
  /** Factors that were not named and on which the answer depends, with the place where they stand: "speed 225 m/min". */
  readonly stands: readonly { readonly factor: string; readonly text: string }[];
  /** Factors that change but are not in the model, and so count for nothing. */
  readonly absent: readonly string[];
  /** Factors that stand outside what was cut at either place. */
  readonly extrapolation: readonly string[];
}

export type ChangeBetween = (
  from: Readonly<Record<string, Setting>>,
  to: Readonly<Record<string, Setting>>,
) => FittedChange;

/** The answer where nothing can be told. */
export function untoldChange(
  reason: string,
  about: Pick<FittedChange, "stands" | "absent" | "extrapolation"> = {
    stands: [],
    absent: [],
    extrapolation: [],
  },
): FittedChange {
  return { ...about, estimate: null, standardError: null, df: null, reason };
}
