import type { AddedRuns } from "../trial/index.ts";
import type { Check } from "./context.ts";

/** Runs that were chosen when readings stood already: an honest reader is told, since a choice made after looking widens nothing by itself. A fact of how the runs came about: chance can't raise it. */
export const addedAfterLooking: Check = ({ trial }) =>
  (trial?.added ?? [])
    .filter(({ readingsBefore }) => readingsBefore > 0)
    .map((added) => {
      const { from, to, at, readingsBefore } = added;
      const one = from === to;
      return {
        kind: "added-after-looking",
        weight: "note" as const,
        title: `${one ? `Run ${from} was` : `Runs ${from} to ${to} were`} added after ${readingsBefore} reading${readingsBefore === 1 ? "" : "s"} had been taken${wayOf(added)}.`,
        evidence: `Added ${at.slice(0, 10)}${added.how === null ? ", chosen by hand" : `: ${added.how.says[0] ?? added.how.by}`}`,
        mend: mendOf(added),
        runs: Array.from({ length: to - from + 1 }, (_, index) => from + index),
        addRuns: [],
      };
    });

function wayOf({ how }: AddedRuns): string {
  if (how === null) return "";
  const seed = how.options["seed"];
  return ` (${how.by}${typeof seed === "number" ? `, seed ${seed}` : ""})`;
}

function mendOf({ how }: AddedRuns): string {
  return how?.by === "proof"
    ? "Judge them by the rule that was decided before they were cut, and by no other."
    : "Say so where the result is told. What the first runs suggested is tested by the added runs alone, not by all together: look whether they say the same.";
}
