import { blocksOfReplicates, centreNotes, centreRuns, numbered, type UnnumberedRun } from "../deal.ts";
import { refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import type { StandardLayout } from "../layout.ts";
import { isQuantity } from "../levels.ts";
import { settingsAt, type OptimalOptions, type OptimalProblem } from "./problem.ts";
import type { SearchOutcome } from "./search.ts";

/** Starts that come this near to the best, by efficiency, count as having reached it. */
const REACHED = 1e-6;

/** The runs that a search found, with what it says about itself. */
export function layOutOptimal(
  problem: OptimalProblem,
  outcome: SearchOutcome,
  options: OptimalOptions,
): StandardLayout {
  const { model, runs, kept } = problem;
  if (outcome.worth === Number.NEGATIVE_INFINITY) {
    throw new LayoutError(
      `layout "optimal": no choice of ${runs} runs found tells all the terms apart. Loosen a constraint, add levels or runs, or ask for fewer terms.`,
    );
  }
  refuseTooManyRuns("optimal", runs * options.replicates, "Take fewer replicates.");
  const whole = options.replicates > 1 ? blocksOfReplicates("optimal", options.replicates, 1) : [1];
  const cut = whole.flatMap(() =>
    Array.from({ length: runs }, (_, run): UnnumberedRun => {
      const settings = settingsAt(model, outcome.points, run * model.factors.length);
      const ends = model.factors.every(
        (factor) =>
          !isQuantity(factor) ||
          settings[factor.name] === factor.low ||
          settings[factor.name] === factor.high,
      );
      return {
        block: (problem.request.blockOf[run] ?? 0) + 1,
        role: run < kept ? "given" : ends ? "corner" : "level",
        settings,
      };
    }),
  );
  const centre = centreRuns("optimal", model.factors, options.centrePoints, options.blocks);
  return {
    runs: numbered([...cut, ...centre]),
    notes: [searchNote(problem, outcome), ...centreNotes(model.factors, options.centrePoints)],
  };
}

/** How good the best is, and how the starts spread. */
function searchNote(problem: OptimalProblem, outcome: SearchOutcome): string {
  const { criterion } = problem.request;
  const relative = outcome.worths.map(
    (worth) => efficiencyOf(problem, worth) / efficiencyOf(problem, outcome.worth),
  );
  const sorted = [...relative].sort((one, other) => one - other);
  const reached = relative.filter((value) => value > 1 - REACHED).length;
  const middle = sorted[Math.floor(sorted.length / 2)] ?? 1;
  const own =
    criterion === "I"
      ? `average variance of a prediction ${(-outcome.worth).toPrecision(4)} σ²`
      : `${criterion}-efficiency ${efficiencyOf(problem, outcome.worth).toPrecision(4)} of X′X = n·I`;
  return `Best of ${outcome.worths.length} starts by ${criterion}: ${own}; ${reached} start${reached === 1 ? "" : "s"} reached it, the middle one came to ${(100 * middle).toFixed(1)} % of it.`;
}

/** A share for D and A against X′X = n·I; for I one over the variance, of which only ratios are told. */
function efficiencyOf({ model, request, runs }: OptimalProblem, worth: number): number {
  if (worth === Number.NEGATIVE_INFINITY) return 0;
  if (request.criterion === "D") return Math.exp(worth / model.columnCount) / runs;
  const blocks = model.blockRows[0]?.length ?? 0;
  return request.criterion === "A" ? (model.columnCount - blocks) / (runs * -worth) : 1 / -worth;
}
