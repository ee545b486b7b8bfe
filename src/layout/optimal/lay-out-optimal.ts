import { blocksOfReplicates, centreNotes, centreRuns, numbered, type UnnumberedRun } from "../deal.ts";
import { refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import type { StandardLayout } from "../layout.ts";
import { isQuantity } from "../levels.ts";
import { settingsAt, type OptimalOptions, type OptimalProblem } from "./problem.ts";
import { worthText } from "./efficiency-of-worth.ts";
import { progressOf } from "./progress.ts";
import type { SearchOutcome } from "./search.ts";

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
  const { criterion, reached, middleShare } = progressOf(problem, outcome.worths);
  const count = outcome.worths.length;
  const stopped =
    outcome.stoppedOf === undefined
      ? ""
      : `Stopped after ${count} of ${outcome.stoppedOf.toLocaleString("en")} starts, the best so far is kept. `;
  return `${stopped}Best of ${count} starts by ${criterion}: ${worthText(problem, outcome.worth)}; ${reached} start${reached === 1 ? "" : "s"} reached it, the middle one came to ${(100 * middleShare).toFixed(1)} % of it.`;
}
