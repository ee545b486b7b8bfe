import { compareLevels, inertLimits, isInterval, observeTable } from "../../src/model/index.ts";
import type { CoverageCase } from "./coverage-case.ts";
import { corners, judgedOf } from "./screening.ts";

const limits = inertLimits(7);

/** Power of tests against a second road: `power.R` beside this file works both figures out, with R 4.2 and none of our code. */
export const powerCases: readonly CoverageCase[] = [
  {
    // A single pair of Tukey's six: Student's t with its shift, beyond the studentised range's limit over √2.
    name: "power to tell 1 pair of 6 apart that differs by 3 sd, 4 levels of 4 runs (Tukey)",
    nominal: 0.8735613718,
    seed: 8500,
    simulate: (random) => {
      const edges = Array.from({ length: 16 }, (_, run) => `edge ${1 + (run % 4)}`);
      const columns = [
        { name: "edge", unit: "", values: edges },
        {
          name: "y",
          unit: "",
          values: edges.map((edge) => (edge === "edge 2" ? 13 : 10) + random.normal()),
        },
      ];
      const { pairs } = compareLevels(observeTable({ columns }, { response: "y", factors: ["edge"] }));
      const { value } = pairs.find(({ from, to }) => from === "edge 1" && to === "edge 2")!;
      return isInterval(value) && (value.low > 0 || value.high < 0);
    },
  },
  {
    // An effect of 4 standard errors beside six inert ones passes Wu and Hamada's limit of 2.297 (a million trials in R).
    name: "power to see 1 effect of 4 standard errors among 7, limit drawn (Lenth)",
    nominal: 0.77677,
    seed: 8501,
    simulate: (random) => {
      // The effect of a 2³ of 8 runs has a standard error of 2/√8.
      const { effects, pseudoStandardError } = judgedOf(
        corners.map(([a]) => (4 * 2 * a) / Math.sqrt(8) + random.normal()),
      );
      return Math.abs(effects[0].effect) > limits.single * pseudoStandardError;
    },
  },
];
