import { costSoFar, planCost, type BudgetEnd } from "../layout/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";
import { formatNumber } from "../units/index.ts";
import { shown } from "./shown.ts";

/** What a plan has used up, run by run, and where what is at hand ends. */
export interface UsedSoFar {
  /** One text a run: "12.4 min, 0.4 mm, edge 1"; empty where nothing can be reckoned. */
  readonly runs: readonly string[];
  /** By run: why what is at hand does not reach it. */
  readonly ends: ReadonlyMap<number, readonly string[]>;
  /** The whole plan in one sentence. */
  readonly sentence: string;
}

export function usedSoFar(spec: TrialSpec, runs: readonly Run[]): UsedSoFar {
  const { headings, rows, sentence } = costSoFar(spec, runs);
  const text = (heading: string, amount: string) => {
    if (heading.startsWith("minutes")) return `${amount} min`;
    return heading.startsWith("edges") ? `edge ${amount}` : amount;
  };
  const ends = new Map<number, readonly string[]>();
  for (const end of planCost(spec, runs).ends) {
    ends.set(end.run, [...(ends.get(end.run) ?? []), endText(spec, end)]);
  }
  return {
    runs: rows.map((row) => row.map((amount, place) => text(headings[place] ?? "", amount)).join(", ")),
    ends,
    sentence,
  };
}

function endText(spec: TrialSpec, { budget, atHand, run }: BudgetEnd): string {
  const amount =
    budget === "stock"
      ? `The ${shown(spec, atHand, "mm")} of stock`
      : `The ${formatNumber(atHand)} ${atHand === 1 && budget === "edges" ? "edge" : budget}`;
  return `${amount} at hand ${budget === "stock" ? "does" : "do"} not reach run ${run}.`;
}
