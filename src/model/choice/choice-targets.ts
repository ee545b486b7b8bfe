import type { Setting } from "../../trial/index.ts";
import type { Fit, Uncertain } from "../fit.ts";
import type { Observations } from "../observations.ts";
import { codedSetting, type CandidateTerm } from "../screening/candidate-terms.ts";
import { interval, isInterval, settingNumber, settingWithUnit, unitText } from "../words.ts";

/** One figure whose interval is to know of the choice. */
export interface ChoiceTarget {
  readonly what: "effect" | "prediction";
  readonly label: string;
  readonly as: "difference" | "ratio" | "value";
  /** The value of each column of the base, then of each candidate. */
  readonly values: Float64Array;
  /** Of the chosen model, on the scale that was fitted. */
  readonly estimate: number;
  /** What the chosen model's own fit says, on the response's scale; null where the factor is not in it. */
  readonly byFit: Uncertain | null;
}

/** The effect of every factor from low to high, in the model or not, and predictions at the settings asked for. */
export function choiceTargets(
  { factors }: Observations,
  fit: Fit,
  given: {
    readonly candidates: readonly CandidateTerm[];
    readonly base: number;
    readonly at: readonly Readonly<Record<string, Setting>>[];
  },
): readonly ChoiceTarget[] {
  const { candidates, base, at } = given;
  const values = (settings: Readonly<Record<string, Setting>>, share: number): Float64Array => {
    const coded = new Map(
      factors.map((factor) => [
        factor.name,
        Object.hasOwn(settings, factor.name) ? codedSetting(factor, settings[factor.name]) : 0,
      ]),
    );
    const terms = candidates.map(({ term }) =>
      Object.entries(term).reduce((product, [name, degree]) => product * coded.get(name)! ** degree, 1),
    );
    // Every block counts alike; of a difference the base counts for nothing.
    return Float64Array.of(...new Array<number>(base).fill(share / base), ...terms);
  };
  const effects = factors.map((factor): ChoiceTarget => {
    const [from, to]: readonly [Setting, Setting] =
      factor.kind === "quantity" ? [factor.low, factor.high] : [factor.levels[0], factor.levels[1]];
    const upper = values({ [factor.name]: to }, 0);
    const lower = values({ [factor.name]: from }, 0);
    const found = fit.effects.find((effect) => effect.factor === factor.name);
    const told = found?.value ?? null;
    return {
      what: "effect",
      label: `${factor.name} from ${settingNumber(from)} to ${settingNumber(to)}${typeof to === "string" ? "" : unitText(factor.unit)}`,
      as: fit.logScale ? "ratio" : "difference",
      values: upper.map((value, k) => value - lower[k]),
      estimate: told === null || told.estimate === null ? 0 : onFit(fit, told.estimate),
      byFit: told,
    };
  });
  const predictions = at.map((settings): ChoiceTarget => {
    const { at: full, estimate, mean } = fit.predict(settings);
    return {
      what: "prediction",
      label: factors
        .filter(({ name }) => Object.hasOwn(settings, name))
        .map((factor) => settingWithUnit(factor, full[factor.name]))
        .join(", "),
      as: "value",
      values: values(settings, 1),
      estimate: onFit(fit, estimate),
      byFit: mean === null ? null : interval(estimate, mean.low, mean.high, fit.confidence),
    };
  });
  return [...effects, ...predictions];
}

/** A figure of the response's own scale on the scale that was fitted. */
export function onFit({ logScale }: Fit, value: number): number {
  return logScale ? Math.log(value) : value;
}

/** Half the width of an interval on the scale that was fitted; null without one. */
export function halfOnFit(fit: Fit, value: Uncertain | null): number | null {
  return value !== null && isInterval(value) ? (onFit(fit, value.high) - onFit(fit, value.low)) / 2 : null;
}
