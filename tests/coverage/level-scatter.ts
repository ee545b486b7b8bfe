import { fitLinear, observeTable, type Fit } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { fitContext } from "../../src/review/context.ts";
import { levelsScatterUnlike } from "../../src/review/levels-scatter-unlike.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** Feed at four settings with each of two edges; the used one scatters `times` as much. */
function drawn(runs: number, times: number, random: SeededRandom): Fit {
  const rows = Array.from({ length: runs }, (_, run) => ({
    feed: [0.08, 0.12, 0.16, 0.24][run % 4],
    edge: Math.floor(run / 4) % 2 === 0 ? "fresh" : "used",
  }));
  const columns = [
    { name: "feed", unit: "mm/rev", values: rows.map(({ feed }) => feed) },
    { name: "edge", unit: "", values: rows.map(({ edge }) => edge) },
    {
      name: "Ra",
      unit: "µm",
      values: rows.map(
        ({ feed, edge }) => 1 + 3 * feed + 0.05 * (edge === "used" ? times : 1) * random.normal(),
      ),
    },
  ];
  return fitLinear(observeTable({ columns }, { response: "Ra", factors: ["feed", "edge"] }));
}

const raised = (fit: Fit): boolean => levelsScatterUnlike(fitContext(fit, [])).length > 0;

/** How often levels of a category are said to scatter unlike: where they don't, and where they do. */
export const levelScatterCases: readonly CoverageCase[] = [
  ...[8, 16].map((runs, k): CoverageCase => ({
    name: `remark on clean runs: levels-scatter-unlike, ${runs} runs on 2 edges`,
    nominal: 0.05,
    promise: "at most",
    seed: 2640 + k,
    ...(runs === 8
      ? {
          known:
            "one plan is always judged by the same 399 draws, so that its own rate is off by about a point; the remark's method tells the figures",
        }
      : {}),
    simulate: (random) => raised(drawn(runs, 1, random)),
  })),
  ...[3, 6].map((times, k): CoverageCase => ({
    name: `power of a remark: levels-scatter-unlike, 1 of 2 edges scatters ${times} times as much, 16 runs`,
    nominal: 1,
    promise: "told",
    fewer: 2000,
    seed: 8220 + k,
    simulate: (random) => raised(drawn(16, times, random)),
  })),
];
