import { medianOf } from "../dispersion/index.ts";
import { interval, percent, withReason } from "../words.ts";
import { holmAdjusted } from "./adjusted.ts";
import { as, placePairs, standardDeviationOf, told } from "./by-means.ts";
import type { Compared } from "./by-means.ts";
import { requireAlone } from "./by-own-scatter.ts";
import type { AskedComparison } from "./compare-options.ts";
import { rankSum } from "./rank-sum.ts";

/** Levels compared by the order of their readings: shifts of Hodges and Lehmann, the chance of error shared over the pairs. */
export function comparedByRanks(asked: AskedComparison): Compared {
  const { levels, control, confidence } = asked;
  const groups = requireAlone(asked, "ranks");
  const places = placePairs(levels.length, control);
  const own = 1 - (1 - confidence) / places.length;
  const found = places.map(([from, to]) => rankSum(groups[from], groups[to], own));
  const p = holmAdjusted(found.map((one) => one.p));
  const ties = found.some((one) => one.ties);
  return {
    levels: levels.map((level, i) => ({
      level,
      runs: groups[i].length,
      mean: medianInterval(asked, groups[i]),
      standardDeviation: standardDeviationOf(groups[i]),
    })),
    pairs: places.map(([from, to], i) => {
      const { shift, interval: ends, mostConfidence } = found[i];
      const named = { from: levels[from], to: levels[to], as: as(asked) };
      const value =
        ends === null
          ? withReason(
              told(asked, shift),
              `by ranks alone ${groups[from].length} and ${groups[to].length} runs can give at most ${percent(Number(mostConfidence.toPrecision(3)))} confidence, and ${percent(Number(own.toPrecision(3)))} is needed for each pair; cut more runs, or compare by means`,
            )
          : interval(told(asked, shift), told(asked, ends[0]), told(asked, ends[1]), confidence);
      return { ...named, value, standardError: null, df: null, p: () => p[i] };
    }),
    methodText: [
      "Pairs compared by ranks alone (Wilcoxon 1945; Hodges and Lehmann 1963, Annals of Mathematical Statistics 34, 598–611),",
      found.every((one) => one.exact)
        ? "by counting every order,"
        : "by the normal approximation where a pair has over 60 runs,",
      "p by Holm’s steps, intervals with the chance of error shared evenly over the pairs. Differences are medians of all differences between runs of two levels.",
    ].join(" "),
    notes: ties ? ["Some runs read the same: with ties the intervals are at least as sure as stated."] : [],
  };
}

/** The median with its interval from the order of the runs alone. */
function medianInterval(asked: AskedComparison, values: readonly number[]): ReturnType<typeof withReason> {
  const sorted = [...values].sort((a, b) => a - b);
  const tail = (1 - asked.confidence) / 2;
  let ways = 1;
  let below = 0;
  let k = 0;
  // P(fewer than k+1 of n runs fall below the median).
  for (; k < sorted.length / 2; k++) {
    below += ways / 2 ** sorted.length;
    if (below > tail) break;
    ways = (ways * (sorted.length - k)) / (k + 1);
  }
  const middle = told(asked, medianOf(values));
  if (k === 0) return withReason(middle, `${sorted.length} runs are too few for an interval by order alone`);
  return interval(
    middle,
    told(asked, sorted[k - 1]),
    told(asked, sorted[sorted.length - k]),
    asked.confidence,
  );
}
