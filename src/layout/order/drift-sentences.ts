import { listed } from "../../units/index.ts";
import type { Term } from "../../model/index.ts";
import type { CutClock } from "./cut-clock.ts";
import type { DriftCorrelation } from "./drift.ts";
import { ROUNDING } from "./order-measure.ts";

/** How an order was made and what drift still moves, in one sentence. */
export function driftRule(
  drift: readonly DriftCorrelation[],
  made: "construction" | "search",
  options: { readonly seed: number; readonly protect?: readonly Term[] | undefined },
): string {
  const how =
    made === "construction"
      ? `by construction, which of the equal orders drawn from seed ${options.seed}`
      : `by a search from seed ${options.seed}`;
  return `Drift-proof order ${how}: ${driftWords(drift, options.protect)}.`;
}

/** What a steady and a bending drift do to the protected terms, as half a sentence. */
export function driftWords(drift: readonly DriftCorrelation[], protect: readonly Term[] | undefined): string {
  const what = protect ? "protected term" : "main effect";
  if (largest(drift, "linear") < ROUNDING && largest(drift, "quadratic") < ROUNDING) {
    return `neither a steady nor a bending drift moves a ${what}`;
  }
  return `${sentencePart(drift, "linear", "steady", what)}; ${sentencePart(drift, "quadratic", "bending", what)}`;
}

function sentencePart(
  drift: readonly DriftCorrelation[],
  degree: "linear" | "quadratic",
  word: "steady" | "bending",
  what: string,
): string {
  const most = largest(drift, degree);
  if (most < ROUNDING) return `a ${word} drift moves no ${what}`;
  const names = drift
    .filter((correlation) => Math.abs(correlation[degree]) > most - ROUNDING)
    .map(({ label }) => label);
  return `the largest correlation of a ${what} with a ${word} drift is ${correlationText(most)} (${listed(names)})`;
}

/** Three decimals, or the power of ten of what would be shown as nothing. */
export function correlationText(correlation: number): string {
  return correlation >= 0.0005 ? correlation.toFixed(3) : correlation.toPrecision(1);
}

/** By what drift is measured, where runs do not take equal times or minutes can't be had. */
export function clockRule(clock: CutClock): string {
  return clock.unit === "minutes"
    ? "Drift is measured in minutes of cut, up to the middle of each pass."
    : `Drift is counted in runs, not in minutes of cut: ${clock.why}.`;
}

function largest(drift: readonly DriftCorrelation[], degree: "linear" | "quadratic"): number {
  return drift.reduce((most, correlation) => Math.max(most, Math.abs(correlation[degree])), 0);
}

/** True for a sentence about a drift-proof order, which a later search may overtake. */
export function isDriftRule(rule: string): boolean {
  return rule.includes("Drift-proof order");
}
