import { expect, test } from "vitest";
import { orderRulesOf } from "../../src/bench/order-rules.ts";
import { layOut, layoutOfRuns } from "../../src/layout/index.ts";
import type { QuantityFactor } from "../../src/trial/index.ts";

const feed: QuantityFactor = {
  kind: "quantity",
  name: "feed",
  unit: "mm/rev",
  low: 0.08,
  high: 0.24,
  scale: "linear",
  change: "easy",
};
const request = { factors: [feed], layout: { kind: "factorial", replicates: 3, seed: 4 } };

test("a plan on disk says the rules of its order while the specification still gives it", () => {
  const { runs, orderRules } = layOut(request);
  expect(orderRulesOf(request, layoutOfRuns(request, runs))).toEqual(orderRules);
});

test("of an order that it no longer gives, that its rules aren't known; of given runs, nothing", () => {
  const moved = [...layOut(request).runs].reverse().map((run, index) => ({ ...run, run: index + 1 }));
  expect(orderRulesOf(request, layoutOfRuns(request, moved))).toEqual([
    "The rules of this order aren't known: it is not the one that the specification gives today (runs moved by hand, or laid out by an earlier version).",
  ]);
  expect(orderRulesOf({ layout: { kind: "given" } }, null)).toEqual([]);
});
