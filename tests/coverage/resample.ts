import {
  bootstrap,
  type Fit,
  fitLinear,
  fitPowerLaw,
  isInterval,
  observeTable,
  permutationTest,
} from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { fitRemarks } from "../../src/review/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** Feed at four settings, speed at two, in shuffled order; normal scatter about straight lines. */
function trial(runs: number, random: SeededRandom, effect = 3) {
  return fitLinear(
    observed(runs, random, (feed, speed) => 1 + effect * feed - speed / 1e4 + 0.05 * random.normal()),
  );
}

/** The same settings with a power law and scatter in proportion. */
function law(runs: number, random: SeededRandom) {
  return fitPowerLaw(observed(runs, random, (feed) => 10 * feed ** 1.4 * Math.exp(0.05 * random.normal())));
}

function observed(runs: number, random: SeededRandom, value: (feed: number, speed: number) => number) {
  const order = random.shuffle(Array.from({ length: runs }, (_, run) => run));
  const feed = order.map((run) => [0.08, 0.12, 0.16, 0.24][run % 4]);
  const speed = order.map((run) => [500, 1000][Math.floor(run / 4) % 2]);
  const y = feed.map((at, i) => value(at, speed[i]));
  const columns = [
    { name: "feed", unit: "mm/rev", values: feed },
    { name: "speed", unit: "rev/min", values: speed },
    { name: "Ra", unit: "µm", values: y },
  ];
  return observeTable({ columns }, { response: "Ra", factors: ["feed", "speed"] });
}

const narrow =
  "Intervals by drawing are too narrow for few runs, and the corrected one does not mend that; the comment and the notes of `bootstrap` give these figures.";

function drawn(
  runs: number,
  by: "residuals" | "runs",
  kind: "percentile" | "corrected",
  seed: number,
  known?: string,
): CoverageCase {
  return {
    name: `effect of feed by drawing ${by} (${kind}), ${runs} runs`,
    nominal: 0.95,
    seed,
    ...(known === undefined ? {} : { known }),
    simulate: (random) => {
      const fit = trial(runs, random);
      // The seed is itself drawn, so that no two trials share their draws.
      const told = bootstrap(fit, { by, draws: 500, seed: random.integer(2 ** 40) }).figures[0][kind];
      return isInterval(told) ? told.low <= 3 * 0.16 && 3 * 0.16 <= told.high : null;
    },
  };
}

type Clean = (runs: number, random: SeededRandom) => Fit;

/** How often a remark is made of clean runs, at `kind`'s own level. */
function falseAlarm(kind: string, runs: number, seed: number, clean: Clean = trial): CoverageCase {
  return {
    name: `remark on clean runs: ${kind}, ${runs} runs`,
    nominal: 0.05,
    promise: "at most",
    seed,
    simulate: (random) => fitRemarks(clean(runs, random)).some((remark) => remark.kind === kind),
  };
}

export const resampleCases: readonly CoverageCase[] = [
  drawn(8, "residuals", "percentile", 2600, narrow),
  drawn(8, "residuals", "corrected", 2601, narrow),
  drawn(16, "residuals", "percentile", 2602, narrow),
  drawn(16, "residuals", "corrected", 2603, narrow),
  drawn(32, "residuals", "percentile", 2604),
  drawn(32, "runs", "percentile", 2605, narrow),
  {
    name: "false alarm of a permutation of feed among other terms, 8 runs",
    nominal: 0.05,
    seed: 2610,
    simulate: (random) =>
      permutationTest(trial(8, random, 0), { term: { feed: 1 }, draws: 199, seed: random.integer(2 ** 40) })
        .p! <= 0.05,
  },
  falseAlarm("outlying-run", 16, 2620),
  falseAlarm("trend-along-order", 16, 2621),
  falseAlarm("curvature-left-over", 16, 2622),
  falseAlarm("scatter-grows-with-size", 16, 2623),
  falseAlarm("flat-at-low-end", 16, 2624, law),
  falseAlarm("left-along-factor", 16, 2625),
  falseAlarm("bends-against-fitted", 16, 2626),
  falseAlarm("influential-run", 16, 2627),
];
