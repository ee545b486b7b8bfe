import type { Settings } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { blocksOfReplicates, centreNotes, centreRuns, numbered, type UnnumberedRun } from "../deal.ts";
import { LayoutError } from "../error.ts";
import type { StandardLayout } from "../layout.ts";
import { isQuantity } from "../levels.ts";
import { settingsOf } from "./allowed.ts";
import { wholePlotColumns } from "./design-plan.ts";
import { worthText } from "./efficiency-of-worth.ts";
import type { OptimalOptions } from "./options.ts";
import type { OptimalProblem } from "./problem.ts";
import { progressOf } from "./progress.ts";
import type { SearchOutcome } from "./search.ts";

/** The runs that a search found, with what it says about itself. */
export function layOutOptimal(
  problem: OptimalProblem,
  outcome: SearchOutcome,
  options: OptimalOptions,
): StandardLayout {
  const { model } = problem;
  const { plan } = problem.request;
  const { runs, fixed, plots } = plan;
  if (outcome.worth === Number.NEGATIVE_INFINITY) {
    throw new LayoutError(
      `layout "optimal": no choice of ${runs} runs found tells all the terms apart${outcome.stoppedOf === undefined ? "" : " before the search was stopped"}. Loosen a constraint, add levels or runs, or ask for fewer terms.`,
    );
  }
  const whole = options.replicates > 1 ? blocksOfReplicates("optimal", options.replicates, 1) : [1];
  const points = { coordinates: outcome.coordinates, places: new Int32Array(outcome.coordinates.length) };
  const cut = whole.flatMap((_, replicate) =>
    Array.from({ length: runs }, (_unused, run): UnnumberedRun => {
      // A run that is kept stands as it was written, also outside the ranges.
      const settings: Settings = run < fixed ? { ...options.keep[run] } : settingsOf(model, points, run);
      const ends = model.factors.every(
        (factor) =>
          !isQuantity(factor) ||
          settings[factor.name] === factor.low ||
          settings[factor.name] === factor.high,
      );
      return {
        block: (plan.blockOf[run] ?? 0) + 1,
        role: run < fixed ? "given" : ends ? "corner" : "level",
        settings,
        ...(plots ? { wholePlot: replicate * plots.count + (plots.of[run] ?? 0) + 1 } : {}),
      };
    }),
  );
  const centre = centreRuns("optimal", model.factors, options.centrePoints, options.blocks);
  return {
    runs: numbered([...cut, ...centre]),
    notes: [
      searchNote(problem, outcome),
      ...plotNotes(problem),
      ...centreNotes(model.factors, options.centrePoints),
    ],
  };
}

/** How good the best is, and how the starts spread. */
function searchNote(problem: OptimalProblem, outcome: SearchOutcome): string {
  const { criterion, reached, middleShare, worstShare } = progressOf(problem, outcome.worths);
  const count = outcome.worths.length.toLocaleString("en");
  const own = worthText(problem, outcome.worth);
  if (outcome.stoppedOf !== undefined) {
    const stopped = `Stopped after ${count} of ${outcome.stoppedOf.toLocaleString("en")} starts, the best so far is kept: save the plan itself, for its seed alone does not make it again.`;
    if (outcome.worths.length === 0)
      return `${stopped} By ${criterion}: ${own}; the first start had not ended.`;
    return `${stopped} ${spreadText()}`;
  }
  return spreadText();

  function spreadText(): string {
    const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
    return `Best of ${count} starts by ${criterion}: ${own}; ${reached} start${reached === 1 ? "" : "s"} reached it, the middle one came to ${percent(middleShare)} of it, the worst to ${percent(worstShare)}.`;
  }
}

/** What whole plots were reckoned with, and what they can't tell. */
function plotNotes({ model, request }: OptimalProblem): readonly string[] {
  const { plots } = request.plan;
  if (!plots) return [];
  const hard = model.factors.filter((factor) => factor.change === "hard");
  const names = listed(hard.map((factor) => factor.name));
  const spare = plots.count - wholePlotColumns(model, hard);
  const kept = plots.firstFree === 0 ? "" : `, ${plots.firstFree} of them with runs that are kept`;
  return [
    `${plots.count} set-ups (whole plots), each with one setting of ${names}${kept}; the search took the variance between them to be ${request.varianceRatio} times the variance between runs.`,
    ...(spare > 0
      ? []
      : [
          `As many set-ups as there are terms in ${names} alone: how far a setting of ${names} repeats can't be seen. Take more set-ups to see it.`,
        ]),
  ];
}
