import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { termValue } from "../term-values.ts";

/** What a fit says of the levels of one category, the other factors in their middle: estimates and how they vary together. */
export interface LevelContrasts {
  readonly levels: readonly string[];
  /** Means of the levels on the scale that was fitted. */
  readonly means: readonly number[];
  /** Of `means`; null where no scatter is left to judge by. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** `to` less `from`. */
  readonly difference: (from: number, to: number) => number;
  readonly covarianceOf: (one: readonly [number, number], other: readonly [number, number]) => number;
  /** Degrees of freedom behind the mean of one level, and behind the difference of two: the same for all, but for a mixed fit. */
  readonly meanDf: (level: number) => number;
  readonly differenceDf: (pair: readonly [number, number]) => number;
}

/** The contrasts between the levels of a category of a fit. */
export function levelContrasts(fit: Fit, factor: string): LevelContrasts {
  const { levels } = fit.factors.find(({ name }) => name === factor)!;
  const { coefficients, covariance } = fit;
  const points = levels.map((level) =>
    Float64Array.from(coefficients, ({ term }) => termValue(fit, term, { settings: { [factor]: level } })),
  );
  const step = (from: number, to: number): Float64Array =>
    points[to].map((value, k) => value - points[from][k]);
  const cross = (one: Float64Array, other: Float64Array): number => {
    let total = 0;
    for (let i = 0; i < one.length; i++) {
      if (one[i] === 0) continue;
      for (let j = 0; j < other.length; j++)
        if (other[j] !== 0) total += one[i] * other[j] * covariance![i][j];
    }
    return total;
  };
  const along = (row: Float64Array): number => {
    let total = 0;
    for (let k = 0; k < row.length; k++) total += row[k] * coefficients[k].estimate;
    return total;
  };
  // Nine digits, so that contrasts that a balanced layout judges alike are seen to be alike.
  const dfOf = (row: Float64Array): number =>
    isMixedFit(fit) ? Number(fit.contrast(row).df.toPrecision(9)) : fit.residualDf;
  return {
    levels,
    means: points.map(along),
    covariance: covariance === null ? null : points.map((one) => points.map((other) => cross(one, other))),
    difference: (from, to) => along(step(from, to)),
    covarianceOf: ([a, b], [c, d]) => cross(step(a, b), step(c, d)),
    meanDf: (level) => dfOf(points[level]),
    differenceDf: ([from, to]) => dfOf(step(from, to)),
  };
}
