import { normalCdf, normalQuantile } from "../../numerics/index.ts";

/** The ends of an interval on the scale that was drawn, or why there are none. */
export type Ends = { readonly low: number; readonly high: number } | { readonly reason: string };

/** Percentile interval: the draws themselves with the same share cut off at either end. `sorted` rises. */
export function percentileEnds(sorted: Float64Array, confidence: number): Ends {
  const tail = (1 - confidence) / 2;
  return { low: quantileOf(sorted, tail), high: quantileOf(sorted, 1 - tail) };
}

/**
 * The interval corrected for bias and for scatter that changes with the value (BCa, Efron 1987, J. Amer. Statist. Assoc. 82, 171–185): the
 * shares cut off are Φ(z₀ + (z₀ + z)/(1 − a(z₀ + z))). z₀ comes from the share of draws below the estimate (ties count half), a is given.
 */
export function correctedEnds(
  sorted: Float64Array,
  estimate: number,
  acceleration: number,
  confidence: number,
): Ends {
  let below = 0;
  const slack =
    1e-12 * Math.max(Math.abs(sorted[0]), Math.abs(sorted[sorted.length - 1]), Math.abs(estimate));
  for (const value of sorted) below += value < estimate - slack ? 1 : value <= estimate + slack ? 0.5 : 0;
  const share = below / sorted.length;
  if (!(share > 0 && share < 1)) return { reason: "every draw lies on one side of the estimate" };
  const bias = normalQuantile(share);
  const moved = (z: number): number => {
    const denominator = 1 - acceleration * (bias + z);
    return denominator > 0 ? normalCdf(bias + (bias + z) / denominator) : z > 0 ? 1 : 0;
  };
  const z = normalQuantile((1 + confidence) / 2);
  return { low: quantileOf(sorted, moved(-z)), high: quantileOf(sorted, moved(z)) };
}

/** The (draws + 1)·share-th of the sorted draws, between two of them in proportion; the outermost beyond the ends. */
export function quantileOf(sorted: Float64Array, share: number): number {
  const place = Math.min(sorted.length - 1, Math.max(0, (sorted.length + 1) * share - 1));
  const lower = Math.floor(place);
  const upper = Math.min(sorted.length - 1, lower + 1);
  return sorted[lower] + (place - lower) * (sorted[upper] - sorted[lower]);
}

/** Skewness of a sum of independent parts, over six: the acceleration of Efron 1987, (7.3). 0 where the parts don't move. */
export function accelerationOf(parts: ArrayLike<number>): number {
  let squares = 0;
  let cubes = 0;
  for (let i = 0; i < parts.length; i++) {
    squares += parts[i] ** 2;
    cubes += parts[i] ** 3;
  }
  return squares > 0 ? cubes / (6 * squares ** 1.5) : 0;
}
