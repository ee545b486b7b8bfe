import { contrast, fitFloor, isInterval, observeTable } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

const feeds = [0.06, 0.1, 0.16, 0.25];

function drawn(runs: number, floor: number, random: SeededRandom) {
  const cut = Array.from({ length: runs }, (_, run) => feeds[run % feeds.length] ?? 0);
  return fitFloor(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "", values: cut },
          {
            name: "Ra",
            unit: "",
            values: cut.map((feed) => Math.hypot(floor, 25 * feed ** 2) * Math.exp(0.08 * random.normal())),
          },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
  );
}

export const floorCases: readonly CoverageCase[] = [
  { runs: 8, floor: 0.3, words: "8 runs, a clear floor" },
  { runs: 16, floor: 0.3, words: "16 runs, a clear floor" },
  { runs: 8, floor: 0.03, words: "8 runs, a floor near zero" },
  { runs: 16, floor: 0, words: "16 runs, no floor" },
].flatMap(({ runs, floor, words }, index): CoverageCase[] => [
  {
    name: `floor of the finish, ${words}`,
    nominal: 0.95,
    // With no floor an interval that begins at 0 holds the truth whatever its lower end was below 0.
    ...(floor === 0 ? { promise: "at least" as const } : {}),
    seed: 1400 + index,
    simulate: (random) => {
      const { floor: found } = drawn(runs, floor, random);
      return "low" in found ? found.low <= floor && floor <= found.high : null;
    },
  },
  {
    name: `exponent above the floor, ${words}`,
    nominal: 0.95,
    seed: 1410 + index,
    simulate: (random) => {
      const [exponent] = drawn(runs, floor, random).exponents;
      const value = exponent?.value;
      return value !== undefined && "low" in value ? value.low <= 2 && 2 <= value.high : null;
    },
  },
  {
    name: `coefficient of the law above a floor, ${words}`,
    nominal: 0.95,
    seed: 1430 + index,
    simulate: (random) => {
      const { coefficient } = drawn(runs, floor, random);
      return isInterval(coefficient) ? coefficient.low <= 25 && 25 <= coefficient.high : null;
    },
  },
  ...(floor === 0
    ? []
    : [
        {
          name: `ratio of finish at two feeds above a floor, ${words}`,
          nominal: 0.95,
          seed: 1420 + index,
          simulate: (random: SeededRandom) => {
            const fit = drawn(runs, floor, random);
            if (!fit.converged) return null;
            const { value } = contrast(fit, { feed: 0.25 }, { feed: 0.1 });
            const truth = Math.hypot(floor, 25 * 0.1 ** 2) / Math.hypot(floor, 25 * 0.25 ** 2);
            return isInterval(value) ? value.low <= truth && truth <= value.high : null;
          },
        },
      ]),
]);
