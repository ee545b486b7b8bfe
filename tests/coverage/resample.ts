import {
  bootstrap,
  type Fit,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  isInterval,
  observeTable,
  permutationTest,
} from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { fitContext, type Check } from "../../src/review/context.ts";
import { fitRemarks } from "../../src/review/index.ts";
import { leftAlongFactor } from "../../src/review/left-along-factor.ts";
import { bendsAgainstFitted, influentialRun, trendAlongOrder } from "../../src/review/residual-checks.ts";
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

/** As `trial`, with rows that count up to four times as much as others and scatter accordingly. */
function weighted(runs: number, random: SeededRandom): Fit {
  const weights = Array.from({ length: runs }, (_, run) => 1 + (run % 4));
  let run = 0;
  const rows = observed(
    runs,
    random,
    (feed, speed) => 1 + 3 * feed - speed / 1e4 + (0.05 * random.normal()) / Math.sqrt(weights[run++]),
  );
  return fitLinear(rows, { weights });
}

/** As `trial`, with an edge of three levels cut at random that does nothing and is not in the model. */
function leftOut(runs: number, random: SeededRandom): Fit {
  const rows = observed(runs, random, (feed, speed) => 1 + 3 * feed - speed / 1e4 + 0.05 * random.normal());
  const edges = random.shuffle(Array.from({ length: runs }, (_, run) => ["fresh", "used", "honed"][run % 3]));
  return fitLinear(
    {
      ...rows,
      factors: [
        ...rows.factors,
        {
          name: "edge",
          kind: "category",
          unit: "",
          levels: ["fresh", "used", "honed"],
          low: -1,
          high: 1,
          scale: "linear",
        },
      ],
      rows: rows.rows.map((row, i) => ({ ...row, settings: { ...row.settings, edge: edges[i] } })),
    },
    { terms: [{ feed: 1 }, { speed: 1 }] },
  );
}

/** Whole plots of two runs, cut one after another: the edge is changed once a whole plot, the feed in every run. */
function splitPlot(runs: number, random: SeededRandom): Fit {
  const edges = random.shuffle(Array.from({ length: runs / 2 }, (_, plot) => ["fresh", "used"][plot % 2]));
  const feeds = edges.flatMap((_, plot) =>
    random.shuffle(
      [
        [0.08, 0.16],
        [0.12, 0.24],
      ][Math.floor(plot / 2) % 2],
    ),
  );
  const set = edges.map(() => 0.05 * random.normal());
  const plot = feeds.map((_, run) => Math.floor(run / 2));
  const columns = [
    { name: "plot", unit: "", values: plot.map(String) },
    { name: "edge", unit: "", values: plot.map((one) => edges[one]) },
    { name: "feed", unit: "mm/rev", values: feeds },
    {
      name: "Ra",
      unit: "µm",
      values: feeds.map((feed, run) => 1 + 3 * feed + set[plot[run]] + 0.05 * random.normal()),
    },
  ];
  return fitMixed(observeTable({ columns }, { response: "Ra", factors: ["edge", "feed"], random: ["plot"] }));
}

/** As `falseAlarm`, by the check alone: beside it the others take most of the time. */
function falseAlarmOf(
  kind: string,
  check: Check,
  words: string,
  { runs = 16, seed, clean }: { readonly runs?: number; readonly seed: number; readonly clean: Clean },
): CoverageCase {
  return {
    name: `remark on clean runs: ${kind}, ${words}`,
    nominal: 0.05,
    promise: "at most",
    seed,
    simulate: (random) => check(fitContext(clean(runs, random), [])).length > 0,
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
  falseAlarmOf("trend-along-order", trendAlongOrder, "16 weighted runs", { seed: 2630, clean: weighted }),
  falseAlarmOf("left-along-factor", leftAlongFactor, "16 weighted runs", { seed: 2631, clean: weighted }),
  falseAlarmOf("bends-against-fitted", bendsAgainstFitted, "16 weighted runs", {
    seed: 2632,
    clean: weighted,
  }),
  falseAlarmOf("influential-run", influentialRun, "16 weighted runs", { seed: 2633, clean: weighted }),
  falseAlarmOf("left-along-factor", leftAlongFactor, "16 runs, a category left out", {
    seed: 2634,
    clean: leftOut,
  }),
  falseAlarmOf("trend-along-order", trendAlongOrder, "16 runs in 8 whole plots", {
    seed: 2635,
    clean: splitPlot,
  }),
  falseAlarmOf("left-along-factor", leftAlongFactor, "16 runs in 8 whole plots", {
    seed: 2636,
    clean: splitPlot,
  }),
  falseAlarmOf("bends-against-fitted", bendsAgainstFitted, "16 runs in 8 whole plots", {
    seed: 2637,
    clean: splitPlot,
  }),
];
