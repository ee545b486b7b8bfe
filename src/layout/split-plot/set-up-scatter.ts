import { wholePlotsOf, type Factor, type Run, type TrialSpec } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";

/** Variance between set-ups over variance between runs, where nothing is stated: a set-up scatters as much as a run. */
export const DEFAULT_VARIANCE_RATIO = 1;

/**
 * The variance between set-ups over that between runs that a trial's own layout was made for. Use it to judge a plan at the
 * ratio for which it was laid out. Undefined where the layout states none: `judge` then takes its own default.
 *
 * Example: of `{ kind: "optimal", runs: 16, varianceRatio: 4 }` it is 4.
 */
export function statedVarianceRatio({ layout }: Pick<TrialSpec, "layout">): number | undefined {
  const stated = layout["varianceRatio"];
  return typeof stated === "number" ? stated : undefined;
}

/**
 * How runs hang together where some share a set-up: the covariance of the responses is σ²(I + ratio·ZZ′), Z the whole plots.
 * Columns that went through `whitened` have independent rows of variance σ², so that ordinary least squares on them is
 * generalised least squares on the runs.
 */
export interface SetUpScatter {
  /** The whole plot of each run, from 0; each run by itself where no factor is hard to change. */
  readonly plots: Int32Array;
  readonly sizes: Float64Array;
  /** Variance between set-ups over σ²; 0 where every run is set up by itself because no factor is hard to change. */
  readonly ratio: number;
  /** Names of the hard factors; empty where there are none. */
  readonly hard: readonly string[];
  readonly whitened: (column: Float64Array) => Float64Array;
}

export function setUpScatterOf(
  runs: readonly Pick<Run, "block" | "settings" | "wholePlot">[],
  factors: readonly Factor[],
  options: { readonly varianceRatio?: number | undefined } = {},
): SetUpScatter {
  const { varianceRatio = DEFAULT_VARIANCE_RATIO } = options;
  if (!(varianceRatio >= 0 && Number.isFinite(varianceRatio))) {
    throw new LayoutError(
      `varianceRatio is ${varianceRatio}; expected the variance between set-ups over the variance between runs, 0 or above. 1 says that a set-up scatters as much as a run; take 0 where setting anew adds no scatter.`,
    );
  }
  const found = wholePlotsOf(runs, factors);
  const plots = Int32Array.from(runs, (_, row) => (found ? (found.of[row] ?? 1) - 1 : row));
  const sizes = new Float64Array(found ? found.count : runs.length);
  plots.forEach((plot) => (sizes[plot] = (sizes[plot] ?? 0) + 1));
  const ratio = found ? varianceRatio : 0;
  return {
    plots,
    sizes,
    ratio,
    hard: found?.factors ?? [],
    whitened: (column) => whitenedBy(plots, sizes, ratio, column),
  };
}

/**
 * V^(−1/2)·column: in a whole plot of m runs (I + ratio·J)^(−1/2) is I − (1 − 1/√(1 + ratio·m))·J/m, J all ones, because J/m
 * is the projection on the plot's mean.
 */
function whitenedBy(
  plots: Int32Array,
  sizes: Float64Array,
  ratio: number,
  column: Float64Array,
): Float64Array {
  if (ratio === 0) return column;
  const sums = new Float64Array(sizes.length);
  for (let row = 0; row < column.length; row += 1) {
    const plot = plots[row] ?? 0;
    sums[plot] = (sums[plot] ?? 0) + (column[row] ?? 0);
  }
  const taken = sums.map((sum, plot) => {
    const size = sizes[plot] ?? 1;
    return ((1 - 1 / Math.sqrt(1 + ratio * size)) * sum) / size;
  });
  return column.map((value, row) => value - (taken[plots[row] ?? 0] ?? 0));
}
