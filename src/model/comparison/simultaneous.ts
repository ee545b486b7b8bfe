import {
  brentRoot,
  manyToOneTail,
  manyToOneUpperQuantile,
  studentisedRangeTail,
  studentisedRangeUpperQuantile,
  tTwoSided,
  tUpperQuantile,
} from "../../numerics/index.ts";
import { lastAsked } from "./last-asked.ts";
import type { LevelContrasts } from "./level-contrasts.ts";
import { sphericalTail } from "./spherical-tail.ts";

/** A pair of levels by their places: from, to. */
export type PlacePair = readonly [number, number];

/** How a set of differences is judged together; `df` is that of the difference asked about. */
export interface Joint {
  /** Half-width of the simultaneous interval, in standard errors. */
  readonly reach: (df: number) => number;
  /** The chance that any of the differences reaches t (its absolute value) where none is real. */
  readonly tail: (t: number, df: number) => number;
  readonly kind: "single" | "range" | "range-unequal" | "many-to-one" | "spherical" | "shared";
}

/** Relative difference up to which two variances are one. */
const same = 1e-7;

/** Every pair: the studentised range, exactly where all pairs vary alike, after Kramer where each level has a variance of its own; else the sphere. */
export function everyPair(contrasts: LevelContrasts, pairs: readonly PlacePair[], confidence: number): Joint {
  const groups = contrasts.levels.length;
  if (pairs.length === 1) return single(confidence);
  if (tooFew(contrasts, pairs)) return shared(pairs.length, confidence);
  const variance = (one: number, other: number): number => contrasts.covarianceOf([one, other], [one, other]);
  const own = ownVariances(groups, variance);
  if (own === null) return spherical(contrasts, pairs, confidence);
  const alike = own.every((value) => Math.abs(value - own[0]) <= same * own[0]);
  return {
    kind: alike ? "range" : "range-unequal",
    reach: (df) => rangeReach(confidence, groups, df),
    tail: (t, df) => studentisedRangeTail(Math.SQRT2 * t, groups, df),
  };
}

/** Each with one control: Dunnett's distribution where the levels have variances of their own, of any sizes; else the sphere. */
export function withControl(
  contrasts: LevelContrasts,
  pairs: readonly PlacePair[],
  confidence: number,
): Joint {
  if (pairs.length === 1) return single(confidence);
  if (tooFew(contrasts, pairs)) return shared(pairs.length, confidence);
  const common = contrasts.covarianceOf(pairs[0], pairs[1]);
  const sizes = pairs.map((pair) => 1 / (contrasts.covarianceOf(pair, pair) - common));
  const together = pairs.every((one, i) =>
    pairs.every(
      (other, j) =>
        i === j || Math.abs(contrasts.covarianceOf(one, other) - common) <= same * Math.abs(common),
    ),
  );
  if (!together || !(common > 0) || sizes.some((size) => !(size > 0 && Number.isFinite(size))))
    return spherical(contrasts, pairs, confidence);
  // Sizes to eight digits, so that levels of one size are seen to be of one size.
  const comparison = {
    controlSize: 1,
    sizes: sizes.map((size) => Number((size * common).toPrecision(8))),
    sides: "both",
  } as const;
  return {
    kind: "many-to-one",
    reach: (df) =>
      lastManyToOne([confidence, df, ...comparison.sizes], () =>
        manyToOneUpperQuantile(1 - confidence, comparison, df),
      ),
    tail: (t, df) => manyToOneTail(t, comparison, df),
  };
}

const lastRange = lastAsked();
const lastManyToOne = lastAsked();

/** Half-width of intervals for every pair of so many levels, in standard errors of the difference. */
export function rangeReach(confidence: number, groups: number, df: number): number {
  return lastRange(
    [confidence, groups, df],
    () => studentisedRangeUpperQuantile(1 - confidence, groups, df) / Math.SQRT2,
  );
}

function single(confidence: number): Joint {
  return {
    kind: "single",
    reach: (df) => tUpperQuantile((1 - confidence) / 2, df),
    tail: (t, df) => tTwoSided(t, df),
  };
}

/** Below one degree of freedom, where a mixed fit may land, the joint distributions are not known. */
function tooFew({ differenceDf }: LevelContrasts, pairs: readonly PlacePair[]): boolean {
  return pairs.some((pair) => differenceDf(pair) < 1);
}

/** The chance of error shared evenly over the pairs (Bonferroni): safe whatever the distribution. */
function shared(pairs: number, confidence: number): Joint {
  return {
    kind: "shared",
    reach: (df) => tUpperQuantile((1 - confidence) / 2 / pairs, df),
    tail: (t, df) => Math.min(1, pairs * tTwoSided(t, df)),
  };
}

function spherical(contrasts: LevelContrasts, pairs: readonly PlacePair[], confidence: number): Joint {
  const errors = pairs.map((pair) => Math.sqrt(contrasts.covarianceOf(pair, pair)));
  const correlation = pairs.map((one, i) =>
    pairs.map((other, j) => (i === j ? 1 : contrasts.covarianceOf(one, other) / (errors[i] * errors[j]))),
  );
  const tail = sphericalTail(correlation);
  const wanted = 1 - confidence;
  const last = lastAsked();
  const reach = (df: number): number => {
    const low = tUpperQuantile(wanted / 2, df);
    const high = tUpperQuantile(wanted / 2 / pairs.length, df);
    const miss = (t: number): number => Math.log(tail(t, df) / wanted);
    if (miss(low) <= 0) return low;
    return miss(high) >= 0 ? high : brentRoot(miss, low, high, { tolerance: 1e-9 * high });
  };
  return { kind: "spherical", reach: (df) => last([df], () => reach(df)), tail };
}

/** Variances aᵢ with aᵢ + aⱼ the variance of every pair; null where there are none. */
function ownVariances(
  groups: number,
  variance: (one: number, other: number) => number,
): readonly number[] | null {
  if (groups < 3) return [variance(0, 1) / 2, variance(0, 1) / 2];
  const first = (variance(0, 1) + variance(0, 2) - variance(1, 2)) / 2;
  const own = Array.from({ length: groups }, (_, i) => (i === 0 ? first : variance(0, i) - first));
  if (own.some((value) => !(value > 0))) return null;
  for (let i = 0; i < groups; i++)
    for (let j = i + 1; j < groups; j++)
      if (Math.abs(own[i] + own[j] - variance(i, j)) > same * variance(i, j)) return null;
  return own;
}
