import { listed } from "../units/index.ts";
import { modelError } from "./error.ts";
import { isInterval, percent } from "./words.ts";
import type { Fit, Uncertain } from "./fit.ts";

/** An exponent beside the 2 of a cusp that the nose radius alone would leave. */
export interface BesideCusp {
  readonly factor: string;
  readonly exponent: Uncertain;
  /** Whether 2 lies in the interval; null without one. */
  readonly holdsTwo: boolean | null;
  readonly text: string;
}

/**
 * The exponent of the feed beside 2, at which the nose radius alone would leave its mark (Ra proportional to feed², Shaw, *Metal Cutting Principles*). Told by the
 * interval and not by a verdict: below 2 something else than the cusp has a part in the finish, such as a floor (see `fitFloor`) or
 * side flow. `factor` is the name of the feed. Refuses a fit that is no power law, and a factor that is no quantity in it.
 *
 * Example: an exponent of 1.6, 95 % 1.4 to 1.8, leaves 2 outside.
 */
export function besideCusp(fit: Fit, factor: string): BesideCusp {
  if (fit.kind !== "power-law") throw modelError("a fit that is no power law", "a power law");
  const names = fit.factors.filter(({ kind }) => kind === "quantity").map(({ name }) => name);
  if (!names.includes(factor)) throw modelError(`"${factor}" as the feed`, listed(names, "or"));
  // Multiplying by e multiplies the response by e to the exponent.
  const ratio = fit.ratio(factor, Math.E);
  if (!isInterval(ratio))
    return {
      factor,
      exponent: ratio.estimate === null ? ratio : { ...ratio, estimate: Math.log(ratio.estimate) },
      holdsTwo: null,
      text: `The exponent of ${factor} has no interval to hold beside the 2 of a nose-radius cusp: ${ratio.reason}.`,
    };
  const [estimate, low, high] = [ratio.estimate, ratio.low, ratio.high].map(Math.log);
  const shown = (value: number) => value.toFixed(high - low > 0.4 ? 1 : 2);
  const exponent = {
    estimate,
    low,
    high,
    confidence: ratio.confidence,
    text: `${shown(estimate)}, ${percent(ratio.confidence)} ${shown(low)} to ${shown(high)}`,
  };
  const holdsTwo = low <= 2 && 2 <= high;
  return {
    factor,
    exponent,
    holdsTwo,
    text: `The exponent of ${factor} is ${exponent.text}; a nose-radius cusp alone would give 2, which lies ${holdsTwo ? "within" : high < 2 ? "above" : "below"} that interval.`,
  };
}
