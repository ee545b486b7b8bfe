import type { OptimalProblem } from "./problem.ts";

/** A share for D and A against X′X = n·I; for I one over the variance, of which only ratios are told. */
function efficiencyOf({ model, request }: OptimalProblem, worth: number): number {
  if (worth === Number.NEGATIVE_INFINITY) return 0;
  const { criterion, runs } = request.plan;
  if (criterion === "D") return Math.exp(worth / model.columnCount) / runs;
  const blocks = model.blockRows[0]?.length ?? 0;
  return criterion === "A" ? (model.columnCount - blocks) / (runs * -worth) : 1 / -worth;
}

/** Efficiency of one design as a share of another's; 0 where a design can't tell all the terms apart. */
export function relativeEfficiency(problem: OptimalProblem, worth: number, best: number): number {
  const most = efficiencyOf(problem, best);
  return most > 0 ? efficiencyOf(problem, worth) / most : 0;
}

/** What a worth means, in words. */
export function worthText(problem: OptimalProblem, worth: number): string {
  const { criterion } = problem.request.plan;
  return criterion === "I"
    ? `average variance of a prediction ${(-worth).toPrecision(4)} σ²`
    : `${criterion}-efficiency ${efficiencyOf(problem, worth).toPrecision(4)} of X′X = n·I`;
}
