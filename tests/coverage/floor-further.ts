import { fitFloor, observeTable } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { drawnTogether, type CoverageCase } from "./coverage-case.ts";
import { holds } from "./mixed.ts";

const feeds = [0.06, 0.1, 0.16, 0.25];

/** Ra = floor + 25·feed², with a scatter of 8 %; of every second four runs with an edge that leaves marks 1.4 times as high. */
function drawn(runs: number, floor: number, edges: "one" | "two", random: SeededRandom) {
  const rows = Array.from({ length: runs }, (_, run) => ({
    feed: feeds[run % feeds.length] ?? 0,
    edge: edges === "two" && Math.floor(run / 4) % 2 === 1 ? "worn" : "fresh",
  }));
  const columns = [
    { name: "feed", unit: "", values: rows.map(({ feed }) => feed) },
    { name: "edge", unit: "", values: rows.map(({ edge }) => edge) },
    {
      name: "Ra",
      unit: "",
      values: rows.map(
        ({ feed, edge }) =>
          (floor + 25 * feed ** 2 * (edge === "worn" ? 1.4 : 1)) * Math.exp(0.08 * random.normal()),
      ),
    },
  ];
  const factors = edges === "two" ? ["feed", "edge"] : ["feed"];
  return fitFloor(observeTable({ columns }, { response: "Ra", factors }), { form: "sum" });
}

/** The other form of a floor, to which heights add and not their squares; with a category beside it. */
export const furtherFloorCases: readonly CoverageCase[] = [
  { runs: 8, floor: 0.3, edges: "one", words: "8 runs, a clear floor" },
  { runs: 16, floor: 0.03, edges: "one", words: "16 runs, a floor near zero" },
  { runs: 16, floor: 0.3, edges: "two", words: "16 runs, a clear floor and two edges" },
].flatMap(({ runs, floor, edges, words }, k) =>
  drawnTogether(
    8300 + k,
    [
      { name: `floor that heights add to, ${words}`, nominal: 0.95, fewer: 2000 },
      { name: `exponent above a floor that heights add to, ${words}`, nominal: 0.95, fewer: 2000 },
      ...(edges === "two"
        ? [{ name: `ratio of edges above a floor that heights add to, ${words}`, nominal: 0.95, fewer: 2000 }]
        : []),
    ],
    (random) => {
      const fit = drawn(runs, floor, edges as "one" | "two", random);
      return [
        holds(fit.floor, floor),
        holds(fit.exponents[0].value, 2),
        ...(edges === "two" ? [holds(fit.levels[0].ratio, 1.4)] : []),
      ];
    },
  ),
);
