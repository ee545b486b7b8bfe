import { fitPowerLaw, largestSetting, observeTable } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

const feeds = [0.08, 0.12, 0.16, 0.24];
const law = (feed: number) => 12 * feed ** 1.4;
const scatter = 0.08;
const limit = law(0.17);

function drawn(runs: number, random: SeededRandom) {
  const cut = Array.from({ length: runs }, (_, run) => feeds[run % feeds.length] ?? 0);
  return fitPowerLaw(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "", values: cut },
          {
            name: "Ra",
            unit: "",
            values: cut.map((feed) => law(feed) * Math.exp(scatter * random.normal())),
          },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
  );
}

/** A recipe's assurance is one-sided: in so many of all trials what is promised of the setting must be true there. */
export const recipeCases: readonly CoverageCase[] = [8, 16, 32].flatMap((runs, index): CoverageCase[] => [
  {
    name: `largest feed whose median keeps the limit, ${runs} runs`,
    nominal: 0.95,
    seed: 1100 + index,
    simulate: (random) => {
      const { edge } = largestSetting(drawn(runs, random), { factor: "feed", limit, for: "mean" });
      return edge === null ? null : law(edge) <= limit;
    },
  },
  {
    name: `largest feed whose next part keeps the limit, ${runs} runs`,
    nominal: 0.95,
    seed: 1110 + index,
    simulate: (random) => {
      const { edge } = largestSetting(drawn(runs, random), { factor: "feed", limit, for: "next-part" });
      return edge === null ? null : law(edge) * Math.exp(scatter * random.normal()) <= limit;
    },
  },
]);
