/** Runs that share one setting of the hard factors, and what that does to the information. */
export interface PlotPlan {
  /** Whole plot of each run, from 0. */
  readonly of: Int32Array;
  readonly count: number;
  /** The runs of whole plot w stand from `from[w]` up to `from[w + 1]` in `runs`. */
  readonly runs: Int32Array;
  readonly from: Int32Array;
  /** Whole plots from this one on are chosen; those before hold runs that are kept. */
  readonly firstFree: number;
  /** True for each factor that is set once a whole plot. */
  readonly hard: readonly boolean[];
  /**
   * With the ratio η of the variance between whole plots to that between runs, and m runs in a whole plot, the inverse of the
   * covariance of its runs is I − c·11′ with c = η/(1 + m·η), in units of the variance between runs. One c a whole plot.
   */
  readonly shrink: Float64Array;
}

/** Whole plots from the plot of each run, in whatever order the runs stand. */
export function plotPlan(
  of: readonly number[],
  options: { readonly firstFree: number; readonly hard: readonly boolean[]; readonly varianceRatio: number },
): PlotPlan {
  const { firstFree, hard, varianceRatio } = options;
  const count = Math.max(-1, ...of) + 1;
  const members = Array.from({ length: count }, (): number[] => []);
  of.forEach((plot, run) => members[plot]?.push(run));
  const from = new Int32Array(count + 1);
  members.forEach((list, plot) => (from[plot + 1] = (from[plot] ?? 0) + list.length));
  return {
    of: Int32Array.from(of),
    count,
    runs: Int32Array.from(members.flat()),
    from,
    firstFree,
    hard,
    shrink: Float64Array.from(members, (list) => varianceRatio / (1 + list.length * varianceRatio)),
  };
}
