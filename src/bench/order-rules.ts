import type { Layout } from "../layout/index.ts";
import type { TrialSpec } from "../trial/index.ts";

/** What is said of an order that the specification no longer gives: rules that can't be checked are not repeated. */
const unknownRules =
  "The rules of this order aren't known: it is not the one that the specification gives today (runs moved by hand, or laid out by an earlier version).";

/** One sentence for each rule that the order of a plan on disk obeys; runs that were given from elsewhere have none. */
export function orderRulesOf(
  { layout }: Pick<TrialSpec, "layout">,
  laidOut: Layout | null,
): readonly string[] {
  if (laidOut !== null) return laidOut.orderRules;
  return layout.kind === "given" ? [] : [unknownRules];
}
