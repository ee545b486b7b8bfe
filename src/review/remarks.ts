import type { Fit, Observations } from "../model/index.ts";
import type { Settings, Trial } from "../trial/index.ts";
import { addedAfterLooking } from "./added-after-looking.ts";
import { fitContext, observedContext, trialContext, type Check, type ReviewContext } from "./context.ts";
import { ReviewError } from "./error.ts";
import { formLeftOver, outlyingRun, predictionOutside, scatterGrowsWithSize } from "./fit-checks.ts";
import { flatAtLowEnd } from "./flat-at-low-end.ts";
import { belowIdeal, traceSetUp } from "./gauge-checks.ts";
import { levelsScatterUnlike } from "./levels-scatter-unlike.ts";
import { movedTogether } from "./moved-together.ts";
import { nearlyTogether } from "./nearly-together.ts";
import { orderFollowsFactor } from "./order-follows-factor.ts";
import { proofRuns } from "./proof-runs.ts";
import type { Remark } from "./remark.ts";
import { leftAlongFactor } from "./left-along-factor.ts";
import { bendsAgainstFitted, influentialRun, trendAlongOrder } from "./residual-checks.ts";
import { noReplicates, oneReadingARun, repeatsAsReplicates, runsNotRead } from "./replication.ts";
import { wholePlotsAsRuns } from "./whole-plots-as-runs.ts";

/** In the order in which a reader should meet them: what spoils the answer first. */
const checks: readonly Check[] = [
  proofRuns,
  movedTogether,
  nearlyTogether,
  orderFollowsFactor,
  wholePlotsAsRuns,
  repeatsAsReplicates,
  noReplicates,
  trendAlongOrder,
  outlyingRun,
  influentialRun,
  formLeftOver,
  leftAlongFactor,
  bendsAgainstFitted,
  scatterGrowsWithSize,
  levelsScatterUnlike,
  predictionOutside,
  belowIdeal,
  traceSetUp,
  flatAtLowEnd,
  oneReadingARun,
  runsNotRead,
  addedAfterLooking,
];

/**
 * What the data of a trial can't say, and what looks wrong in them, each with its evidence and the smallest mend. Use it on every
 * analysis before reading an effect.
 *
 * @param trial the trial as recorded
 * @param fit the model that is being read; without one only plan, order and gauge are looked at
 * @param options.predictions settings that are going to be used, to be checked against what was cut
 * @returns cautions first, notes after; none where nothing was noticed
 * @throws ReviewError where the fit is of a response that the trial does not have
 * @example remarks(trial, fitPowerLaw(trial))[0].title reads "speed, edge and coolant moved together: …" where a last pass changed all three
 */
export function remarks(
  trial: Trial,
  fit?: Fit,
  { predictions = [] }: { predictions?: readonly Settings[] } = {},
): readonly Remark[] {
  if (fit && !trial.spec.responses.some(({ name }) => name === fit.response.name)) {
    throw new ReviewError(
      `The fit is of ${fit.response.name}; trial "${trial.name}" has ${trial.spec.responses.map(({ name }) => name).join(", ")}. Fit one of these.`,
    );
  }
  return noticed(trialContext(trial, fit ?? null, predictions));
}

/** The same for a fit of a plain table, where there is no plan, no gauge and no limit to look at. */
export function fitRemarks(
  fit: Fit,
  { predictions = [] }: { predictions?: readonly Settings[] } = {},
): readonly Remark[] {
  return noticed(fitContext(fit, predictions));
}

/** The same for the rows of a plain table before a model, or beside one that is no linear model: only how they were cut is looked at. */
export function observedRemarks(observations: Observations): readonly Remark[] {
  return noticed(observedContext(observations));
}

function noticed(context: ReviewContext): readonly Remark[] {
  const found = checks.flatMap((check) => check(context));
  return [
    ...found.filter(({ weight }) => weight === "caution"),
    ...found.filter(({ weight }) => weight === "note"),
  ];
}
