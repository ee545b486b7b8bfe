import { fitLinear } from "../fit-linear.ts";
import { fitPowerLaw } from "../fit-power-law.ts";
import { modelsWithinReach, twoStageScreening } from "../screening/index.ts";
import type { ReachOptions, TwoStageOptions } from "../screening/index.ts";
import type { Choose } from "./validate-choice.ts";

/** The best of the models within reach (see `modelsWithinReach`), fitted: to be handed to `validateChoice`. */
export function bestWithinReach(options: ReachOptions = {}): Choose {
  return (observations, { chosenFrom }) =>
    fitLinear(observations, {
      terms: modelsWithinReach(observations, options).models[0].terms,
      log: options.log ?? false,
      chosenFrom,
    });
}

/** What a screening in two stages finds (see `twoStageScreening`), fitted; the mean alone where it isn't possible. */
export function bestOfTwoStages(options: TwoStageOptions = {}): Choose {
  return (observations, { chosenFrom }) =>
    fitLinear(observations, {
      terms: twoStageScreening(observations, options).active,
      log: options.log ?? false,
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
