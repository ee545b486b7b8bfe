import { fitLinear, fitPowerLaw, isInterval, observeTable, type Uncertain } from "../../src/model/index.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** So many runs of a feed × speed factorial, one after another; categories left out so that 8 runs carry an error. */
function settings(runs: number): readonly { readonly feed: number; readonly speed: number }[] {
  const feeds = [0.08, 0.16, 0.24, 0.12];
  const speeds = [500, 1000];
  return Array.from({ length: runs }, (_, run) => ({
    feed: feeds[run % 4] ?? 0,
    speed: speeds[Math.floor(run / 4) % 2] ?? 0,
  }));
}

function observed(runs: number, value: (at: { feed: number; speed: number }) => number) {
  const rows = settings(runs);
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "", values: rows.map(({ feed }) => feed) },
        { name: "speed", unit: "", values: rows.map(({ speed }) => speed) },
        { name: "Ra", unit: "", values: rows.map(value) },
      ],
    },
    { response: "Ra", factors: ["feed", "speed"] },
  );
}

const plain = (at: { feed: number; speed: number }) => 0.2 + 3 * at.feed - at.speed / 1e4;
const law = (at: { feed: number; speed: number }) => 12 * at.feed ** 1.4 * at.speed ** -0.2;
const drawPlain = (runs: number, random: SeededRandom) =>
  fitLinear(observed(runs, (at) => plain(at) + 0.05 * random.normal()));
const drawLaw = (runs: number, random: SeededRandom) =>
  fitPowerLaw(observed(runs, (at) => law(at) * Math.exp(0.1 * random.normal())));

function holds(value: Uncertain, truth: number): boolean | null {
  return isInterval(value) ? value.low <= truth && truth <= value.high : null;
}

const at = { feed: 0.2, speed: 800 };

export const linearCases: readonly CoverageCase[] = [8, 16, 32].flatMap((runs, index): CoverageCase[] => [
  {
    name: `effect of feed, ${runs} runs`,
    nominal: 0.95,
    seed: 1000 + index,
    simulate: (random) => holds(drawPlain(runs, random).effects[0].value, 3 * 0.16),
  },
  {
    name: `ratio when the feed is halved (power law), ${runs} runs`,
    nominal: 0.95,
    seed: 1010 + index,
    simulate: (random) => holds(drawLaw(runs, random).ratio("feed", 0.5), 0.5 ** 1.4),
  },
  {
    name: `mean at a setting, ${runs} runs`,
    nominal: 0.95,
    seed: 1020 + index,
    simulate: (random) => {
      const mean = drawPlain(runs, random).predict(at).mean;
      return mean && mean.low <= plain(at) && plain(at) <= mean.high;
    },
  },
  {
    name: `next run at a setting (power law), ${runs} runs`,
    nominal: 0.95,
    seed: 1030 + index,
    simulate: (random) => {
      const single = drawLaw(runs, random).predict(at).single;
      const next = law(at) * Math.exp(0.1 * random.normal());
      return single && single.low <= next && next <= single.high;
    },
  },
]);
