import { figureError, requireFinite } from "./error.ts";
import type { Run } from "../trial/index.ts";

/** Where a run lies along the strips. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Refuses a list that has not one entry a run. */
export function checkCount(what: string, given: readonly number[] | undefined, runs: readonly Run[]): void {
  if (given === undefined || given.length === runs.length) return;
  throw figureError({
    given: `${given.length} ${what} for ${runs.length} runs`,
    expected: `${what} of each run, in cutting order`,
    mend: "Give one a run, or leave them out.",
  });
}

export function spansOf(runs: readonly Run[], minutes: readonly number[] | undefined): readonly Span[] {
  if (minutes === undefined) return runs.map((_, index) => ({ from: index + 0.5, to: index + 1.5 }));
  let to = 0;
  return minutes.map((own) => {
    const from = to;
    to += requireFinite(own, "minutes in cut of a run");
    return { from, to };
  });
}

/** Places in cutting order at which another edge is taken. */
export function edgeBorders(edges: readonly number[] | undefined): readonly number[] {
  return (edges ?? []).flatMap((edge, index) => (index > 0 && edge !== edges?.[index - 1] ? [index] : []));
}

export function freshEdges(runs: readonly Run[], edges: readonly number[] | undefined): string {
  const before = edgeBorders(edges).map((index) => String(runs[index]?.run ?? ""));
  return before.length === 0
    ? ""
    : `Another edge before ${before.length === 1 ? "run" : "runs"} ${before.join(", ")}.`;
}

/** A bar a little shorter than its run, so that like settings side by side stay two bars. */
export function inset(span: Span | undefined): { readonly x1: number; readonly x2: number } {
  const { from, to } = span ?? { from: 0, to: 1 };
  const room = (to - from) * 0.1;
  return { x1: from + room, x2: to - room };
}
