import { modelError } from "../error.ts";

/** How well one response is liked. */
export interface Wish {
  readonly aim: "smaller" | "larger" | "target";
  /** Fully content from here on: at most, at least, or at this value. */
  readonly good: number;
  /** No longer of use from here on; a target takes one below and one above. */
  readonly bad: number | readonly [number, number];
  /** Above 1 only values near `good` please, below 1 anything short of `bad` does. Default 1. */
  readonly weight?: number;
  /** How much it counts among the others. Default 1. */
  readonly importance?: number;
}

/**
 * How well one value is liked, from 0 (of no use) to 1 (fully content). Use it to weigh responses that pull apart, where no limit decides.
 * Source: Derringer and Suich 1980, Journal of Quality Technology 12, 214–219 (one-sided and two-sided functions).
 * Refused: weights that are not above zero, `good` on the wrong side of `bad`.
 * Example: `desirability(0.7, { aim: "smaller", good: 0.4, bad: 0.8 })` is 0.25.
 */
export function desirability(value: number, wish: Wish): number {
  const { aim, good, weight, bad } = checkedWish(wish);
  if (!Number.isFinite(value)) throw modelError(`the value ${value}`, "a finite number");
  return liked(value, aim, good, bad, weight);
}

/**
 * Several likings as one: their geometric mean, each raised to its importance (Derringer and Suich 1980; importance: Derringer 1994, Quality Progress 27, 51–58).
 * One that is 0 makes all 0. Example: `overallDesirability([0.25, 1])` is 0.5.
 */
export function overallDesirability(likings: readonly number[], importance?: readonly number[]): number {
  if (likings.length === 0) throw modelError("no liking", "at least one");
  const weights = importance ?? likings.map(() => 1);
  if (weights.length !== likings.length)
    throw modelError(
      `${likings.length} likings with ${weights.length} importances`,
      "one importance a liking",
    );
  for (const liking of likings)
    if (!(liking >= 0 && liking <= 1)) throw modelError(`a liking of ${liking}`, "a number from 0 to 1");
  let logarithm = 0;
  let total = 0;
  likings.forEach((liking, k) => {
    if (!(weights[k] > 0 && Number.isFinite(weights[k])))
      throw modelError(`an importance of ${weights[k]}`, "a number above zero");
    logarithm += weights[k] * Math.log(liking);
    total += weights[k];
  });
  return Math.exp(logarithm / total);
}

/** A wish with its defaults, checked. */
export interface CheckedWish {
  readonly aim: Wish["aim"];
  readonly good: number;
  readonly bad: readonly [number, number];
  readonly weight: number;
  readonly importance: number;
}

export function checkedWish({ aim, good, bad, weight = 1, importance = 1 }: Wish): CheckedWish {
  const ends: readonly [number, number] = typeof bad === "number" ? [bad, bad] : [bad[0], bad[1]];
  const isPlaced =
    aim === "smaller"
      ? typeof bad === "number" && good < bad
      : aim === "larger"
        ? typeof bad === "number" && good > bad
        : typeof bad !== "number" && ends[0] < good && good < ends[1];
  if (!isPlaced || !Number.isFinite(good) || !ends.every(Number.isFinite))
    throw modelError(
      `a wish for ${aim} with good ${good} and bad ${JSON.stringify(bad)}`,
      aim === "target"
        ? "[bad below, bad above] on either side of good"
        : `a bad value ${aim === "smaller" ? "above" : "below"} the good one`,
    );
  for (const [name, value] of Object.entries({ weight, importance }))
    if (!(value > 0 && Number.isFinite(value)))
      throw modelError(`${name === "weight" ? "a" : "an"} ${name} of ${value}`, "a number above zero");
  return { aim, good, bad: ends, weight, importance };
}

/** The liking itself, nothing checked. */
export function liked(
  value: number,
  aim: Wish["aim"],
  good: number,
  [low, high]: readonly [number, number],
  weight: number,
): number {
  const bad = aim === "target" ? (value < good ? low : high) : high;
  if (aim !== "target" && (good < bad ? value <= good : value >= good)) return 1;
  const share = (value - bad) / (good - bad);
  return share <= 0 ? 0 : Math.min(1, weight === 1 ? share : share ** weight);
}
