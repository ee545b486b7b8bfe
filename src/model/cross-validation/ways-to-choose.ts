import { modelError } from "../error.ts";
import { fitLinear } from "../fit-linear.ts";
import { fitPowerLaw } from "../fit-power-law.ts";
import type { FitOptions } from "../fit-options.ts";
import { findTransform } from "../transform/index.ts";
import { modelsWithinReach, twoStageScreening } from "../screening/index.ts";
import type { ReachOptions, TwoStageOptions } from "../screening/index.ts";
import type { Choose } from "./validate-choice.ts";

/**
 * The best of the models within reach (see `modelsWithinReach`), fitted with each factor of its products by itself: to be handed to `validateChoice`.
 * Without those factors the fit would be another model than the one looked at wherever factors are not coded.
 */
export function bestWithinReach(options: ReachOptions = {}): Choose {
  return (observations, { chosenFrom }) =>
    fitLinear(observations, {
      terms: modelsWithinReach(observations, options).models[0].fitTerms,
      log: options.log ?? false,
      chosenFrom,
    });
}

/**
 * What a screening in two stages finds (see `twoStageScreening`), fitted. Refused, with the reason, where it isn't possible: so it is of runs that mirror one
 * another when one of them is left out, and `validateChoice` then says that nothing could be predicted. Leave out blocks that hold whole pairs.
 */
export function bestOfTwoStages(options: TwoStageOptions = {}): Choose {
  return (observations, { chosenFrom }) => {
    const { possible, fitTerms, sentences } = twoStageScreening(observations, options);
    if (!possible)
      throw modelError("these runs for two stages", "runs that mirror one another", sentences[0]);
    return fitLinear(observations, { terms: fitTerms, log: options.log ?? false, chosenFrom });
  };
}

/**
 * The scale that the readings do not object to (see `findTransform`): logarithms or the reading as it is. Where the readings object to both, or like the
 * square root or the reciprocal better, the reading as it is.
 */
export function scaleByReadings(options: Pick<FitOptions, "model" | "terms"> = {}): Choose {
  return (observations, { chosenFrom }) =>
    fitLinear(observations, {
      ...options,
      log: findTransform(observations, options).fitOptions?.log ?? false,
      chosenFrom,
    });
}

/** Straight lines or the power law with main effects, whichever leaves less: by the scatter of the runs on the response's own scale. */
export function linesOrPowerLaw(): Choose {
  return (observations, { chosenFrom }) => {
    const lines = fitLinear(observations, { chosenFrom });
    if (!observations.rows.every(({ value, settings }) => value > 0 && positive(settings))) return lines;
    const law = fitPowerLaw(observations, { chosenFrom });
    const left = law.rows.reduce(
      (sum, { value, fitted }) => sum + (Math.exp(value) - Math.exp(fitted)) ** 2,
      0,
    );
    const leftByLines = lines.rows.reduce((sum, { residual }) => sum + residual ** 2, 0);
    return left < leftByLines ? law : lines;
  };
}

function positive(settings: Readonly<Record<string, number | string>>): boolean {
  return Object.values(settings).every((value) => typeof value === "string" || value > 0);
}
