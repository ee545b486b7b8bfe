import type { Setting } from "../../trial/index.ts";
import type { Fit, Uncertain } from "../fit.ts";
import { termValue, type Place } from "../term-values.ts";
import { isInterval, settingWithUnit } from "../words.ts";

/** One figure of a fit that draws are made of: a combination of its coefficients, or the reason why there is none. */
export interface Target {
  readonly what: "effect" | "ratio" | "prediction";
  /** In words: "feed from 0.08 mm/rev to 0.24 mm/rev". */
  readonly label: string;
  readonly as: "difference" | "ratio" | "value";
  /** One entry a coefficient of the fit. */
  readonly combination: Float64Array;
  /** On the scale that was fitted. */
  readonly estimate: number;
  /** True where the figure told is e to the power of what is drawn. */
  readonly exponential: boolean;
  /** By Student's t, as the fit tells it. */
  readonly byT: { readonly low: number; readonly high: number } | null;
  /** Why no interval can be drawn; empty where one can. */
  readonly reason: string;
}

export interface TargetOptions {
  /** Settings to predict at; factors left out as in `Fit.predict`. */
  readonly at?: readonly Readonly<Record<string, Setting>>[];
  /** Ratios of a power law: what multiplying a factor does. */
  readonly ratios?: readonly { readonly factor: string; readonly multiplier: number }[];
}

/** Every effect of the fit, then the ratios and predictions asked for. */
export function targetsOf(fit: Fit, { at = [], ratios = [] }: TargetOptions): readonly Target[] {
  const difference = (from: Place, to: Place): Float64Array =>
    Float64Array.from(fit.coefficients, ({ term }) => termValue(fit, term, to) - termValue(fit, term, from));
  const factorNamed = (name: string) => fit.factors.find((factor) => factor.name === name)!;
  const shown = (name: string, setting: Setting): string => settingWithUnit(factorNamed(name), setting);
  const effects = fit.effects.map(({ factor, from, to, as, value }): Target => {
    const combination = difference({ settings: { [factor]: from } }, { settings: { [factor]: to } });
    return {
      what: "effect",
      label: `${shown(factor, from)} to ${shown(factor, to)}`,
      as,
      ...drawn(fit, combination, value, as === "ratio"),
    };
  });
  const asked = ratios.map(({ factor, multiplier }): Target => {
    const value = fit.ratio(factor, multiplier);
    const low = factorNamed(factor).low;
    const combination = isInterval(value)
      ? difference({ settings: { [factor]: low } }, { settings: { [factor]: low * multiplier } })
      : new Float64Array(fit.coefficients.length);
    return {
      what: "ratio",
      label: `${factor} times ${multiplier}`,
      as: "ratio",
      ...drawn(fit, combination, value, true),
    };
  });
  const predictions = at.map((settings): Target => {
    const { at: full, mean, estimate, extrapolation } = fit.predict(settings);
    const combination = Float64Array.from(fit.coefficients, ({ term }) =>
      termValue(fit, term, { settings: full }),
    );
    const reason =
      mean !== null ? "" : fit.noInterval !== "" ? fit.noInterval : `it hangs on ${extrapolation.join(", ")}`;
    return {
      what: "prediction",
      label: fit.factors.map((factor) => settingWithUnit(factor, full[factor.name])).join(", "),
      as: "value",
      combination,
      estimate: fit.logScale ? Math.log(estimate) : estimate,
      exponential: fit.logScale,
      byT: mean,
      reason,
    };
  });
  return [...effects, ...asked, ...predictions];
}

function drawn(
  fit: Fit,
  combination: Float64Array,
  value: Uncertain,
  exponential: boolean,
): Pick<Target, "combination" | "estimate" | "exponential" | "byT" | "reason"> {
  const byT = isInterval(value) ? { low: value.low, high: value.high } : null;
  const estimate = fit.coefficients.reduce((sum, one, k) => sum + combination[k] * one.estimate, 0);
  return { combination, estimate, exponential, byT, reason: isInterval(value) ? "" : value.reason };
}
