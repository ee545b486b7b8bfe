import { modelError } from "../error.ts";
import { fitLinear } from "../fit-linear.ts";
import type { Observations } from "../observations.ts";
import {
  mirroredPart,
  twoStageScreening,
  type TwoStageOptions,
  type TwoStageScreening,
} from "../screening/index.ts";
import { validateChoice, type ChoiceValidation, type Choose } from "./validate-choice.ts";

/**
 * What a screening in two stages costs: each run is left out in turn, the whole choice made anew, and the run predicted (see `validateChoice`). A run without its mirror
 * can't take part in the two stages, so the mirror of the run left out sits out of the choice too and comes back for the fit.
 *
 * A pair less is a degree of freedom less to judge main effects by. Where fewer than 3 are then left, far fewer effects stand out than with all runs: the figures are told with
 * that caution, and no widening is taken from them. Nor is one where fewer than half the runs can be predicted. Refused: runs that can't be screened in two stages, with the reason.
 *
 * Example: of 6 factors in 17 runs 1 degree of freedom is left in place of 2, so `validateTwoStages(observations).widening` is null, and `sentence` says why.
 */
export function validateTwoStages(
  observations: Observations,
  options: TwoStageOptions = {},
): ChoiceValidation {
  const found = twoStageScreening(observations, options);
  if (!found.possible)
    throw modelError("these runs for two stages", "runs that mirror one another", found.sentences[0]);
  const { how } = found.fitTerms.chosenFrom;
  const told = validateChoice(observations, choiceWithoutMirror(options), { how });
  const { length } = observations.rows;
  const predicted = length - told.notPredicted.length;
  const df = firstStageDf(found);
  const isEnough = 2 * predicted >= length;
  if (isEnough && df - 1 >= leastDf) return told;
  const why = isEnough
    ? `${told.sentence} That overstates what the choice costs: without a run and its mirror, main effects are judged by ${df - 1} degree${df === 2 ? "" : "s"} of freedom in place of ${df}, so fewer stand out. No widening is taken from it: prove what matters with further runs.`
    : `With a run and its mirror out of the choice it can be made anew for only ${predicted} of ${length} runs: too few to tell what it costs. Prove what matters with further runs.`;
  return {
    ...told,
    fit: choiceWithoutMirror(options)(observations, { chosenFrom: { how } }),
    widening: null,
    sentence: `This model was chosen as ${how}; its intervals know nothing of the choice and are too narrow. ${why}`,
  };
}

/** With fewer, Student's t at 95 % is beyond 4 scatters, and hardly an effect stands out. */
const leastDf = 3;

/** Degrees of freedom before the inactive main effects join the scatter. */
function firstStageDf({ scatter, mains }: TwoStageScreening): number {
  return (scatter?.df ?? 0) - mains.filter(({ active }) => !active).length;
}

/** The two stages on the runs whose mirror is there, and what they find fitted to all runs. */
function choiceWithoutMirror(options: TwoStageOptions): Choose {
  return (observations, { chosenFrom }) => {
    const { possible, fitTerms, sentences } = twoStageScreening(mirroredPart(observations), options);
    if (!possible) throw modelError("too few mirror pairs", "runs that mirror one another", sentences[0]);
    return fitLinear(observations, {
      terms: fitTerms,
      log: options.log ?? false,
      chosenFrom,
    });
  };
}
