import { studentisedRangeTail, tQuantile, tTwoSided, tUpperQuantile } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import { once } from "../once.ts";
import { withReason } from "../words.ts";
import { holmAdjusted } from "./adjusted.ts";
import { as, holmText, placePairs, standardDeviationOf, told, toldInterval } from "./by-means.ts";
import type { Compared } from "./by-means.ts";
import type { AskedComparison, CompareOptions } from "./compare-options.ts";
import { rangeReach } from "./simultaneous.ts";
import { levelMoments, welchDifference, type WelchDifference } from "./welch.ts";

const noScatter = "both levels read the same in every run, so there is no scatter to judge by";

/**
 * Levels compared with a scatter of their own. Every pair: Games and Howell; with a control, or by Holm: Welch's t for each with the chance of error
 * shared over the pairs.
 */
export function comparedByOwnScatter(
  asked: AskedComparison,
  { adjust = "simultaneous" }: CompareOptions,
): Compared {
  const { levels, control, confidence } = asked;
  const groups = requireAlone(asked, "scatter of each level’s own");
  const few = levels.filter((_, i) => groups[i].length < 2);
  if (few.length > 0) {
    throw modelError(
      `one run of ${asked.factor} ${listed(few)}`,
      "two runs or more of each level to show its own scatter",
      "Cut replicates, or compare with one scatter for all.",
    );
  }
  const moments = groups.map(levelMoments);
  const places = placePairs(levels.length, control);
  const range = adjust === "simultaneous" && control === null && levels.length > 2;
  const differences = places.map(([from, to]) => welchDifference(moments[from], moments[to]));
  const together = once(() => sharedP(differences, adjust));
  const pOf = (one: WelchDifference | null, place: number): number | null => {
    if (!range) return together()[place];
    if (one === null) return null;
    const q = (Math.SQRT2 * Math.abs(one.difference)) / one.standardError;
    return studentisedRangeTail(q, levels.length, one.df);
  };
  const reach = (df: number): number =>
    range
      ? rangeReach(confidence, levels.length, df)
      : tUpperQuantile((1 - confidence) / (2 * places.length), df);
  return {
    levels: levels.map((level, i) => {
      const { mean, variance, runs } = moments[i];
      return {
        level,
        runs,
        mean:
          variance > 0
            ? toldInterval(asked, mean, tQuantile((1 + confidence) / 2, runs - 1) * Math.sqrt(variance))
            : withReason(told(asked, mean), "every run of this level read the same"),
        standardDeviation: standardDeviationOf(groups[i]),
      };
    }),
    pairs: places.map(([from, to], i) => {
      const named = { from: levels[from], to: levels[to], as: as(asked) };
      const one = differences[i];
      if (one === null) {
        const size = told(asked, moments[to].mean - moments[from].mean);
        return { ...named, value: withReason(size, noScatter), standardError: null, df: null, p: () => null };
      }
      return {
        ...named,
        value: toldInterval(asked, one.difference, reach(one.df) * one.standardError),
        standardError: one.standardError,
        df: one.df,
        p: () => pOf(one, i),
      };
    }),
    methodText: methodText(range, adjust, places.length),
    notes: [],
  };
}

function sharedP(
  differences: readonly (WelchDifference | null)[],
  adjust: "simultaneous" | "holm",
): readonly (number | null)[] {
  const own = differences.map((one) =>
    one === null ? null : tTwoSided(one.difference / one.standardError, one.df),
  );
  if (adjust === "simultaneous")
    return own.map((value) => (value === null ? null : Math.min(1, own.length * value)));
  // A pair that can't be judged takes no part of the chance of error from the others, and keeps its place in their number.
  const adjusted = holmAdjusted(own.map((value) => value ?? 1));
  return own.map((value, i) => (value === null ? null : adjusted[i]));
}

function methodText(range: boolean, adjust: "simultaneous" | "holm", pairs: number): string {
  const own = "Each level with its own scatter (Welch 1938, Biometrika 29, 350–362)";
  if (range)
    return "Every pair compared, each level with its own scatter (Games and Howell 1976, Journal of Educational Statistics 1, 113–125).";
  if (pairs === 1) return `${own}.`;
  return adjust === "holm"
    ? `${own}; ${holmText}`
    : `${own}, the chance of error shared evenly over the pairs (Bonferroni), so that all intervals hold together.`;
}

/** The runs by level; refuses models in which something else moved too. */
export function requireAlone(
  { groups, factor }: AskedComparison,
  what: string,
): readonly (readonly number[])[] {
  if (groups !== null) return groups;
  throw modelError(
    `a model with other factors, blocks or sources of scatter beside ${factor} for a comparison by ${what}`,
    `${factor} alone`,
    "Compare by means with one scatter, or take runs in which nothing else moved.",
  );
}
