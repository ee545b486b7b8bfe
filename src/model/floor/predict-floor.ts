import { leastSquares, tQuantile, type NonlinearFit } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import type { Setting } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Observations } from "../observations.ts";
import { requireReached } from "../usual-size.ts";
import { percent, rounded, settingWithUnit, unitText } from "../words.ts";
import { floorModel, type FloorForm, type LawPart } from "./floor-model.ts";

export interface FloorPrediction {
  readonly at: Readonly<Record<string, Setting>>;
  /** The median, in the response's unit. */
  readonly estimate: number;
  readonly mean: { readonly low: number; readonly high: number };
  readonly single: { readonly low: number; readonly high: number };
  /** What lies outside what was cut; empty inside. */
  readonly extrapolation: readonly string[];
  readonly text: string;
}

/** A floor fit at its estimate, with what it takes to ask it about places. */
export interface FloorAsked {
  readonly fit: NonlinearFit;
  readonly form: FloorForm;
  readonly parts: readonly LawPart[];
  readonly unit: number;
  readonly confidence: number;
  readonly observations: Observations;
  readonly weights: Float64Array | undefined;
}

/** The logarithm of the median (over the unit) at a place, its slopes in the parameters, and the variance of any combination of slopes over σ². */
export function floorSlopes({ fit, form, parts, observations, weights }: FloorAsked): {
  readonly at: (settings: Readonly<Record<string, Setting>>) => {
    readonly value: number;
    readonly slopes: Float64Array;
  };
  readonly cross: (slopes: Float64Array) => number;
} {
  const rows = fit.fitted.length;
  const count = parts.length + 2;
  const { kept, rank, inverseCross } = leastSquares(
    Array.from({ length: count }, (_, k) => ({ high: fit.jacobian.slice(k * rows, (k + 1) * rows) })),
    fit.residuals,
    weights === undefined ? {} : { weights },
  );
  return {
    at: (settings) => {
      for (const factor of observations.factors) checkSetting(factor, settings[factor.name]);
      const columns = parts.map(({ of }) => Float64Array.of(of(settings)));
      const value = new Float64Array(1);
      const slopes = new Float64Array(count);
      floorModel(form, columns, 1).evaluate(fit.parameters, value, slopes);
      return { value: value[0], slopes };
    },
    cross: (slopes) => {
      let sum = 0;
      for (let i = 0; i < rank; i++)
        for (let j = 0; j < rank; j++) sum += slopes[kept[i]] * inverseCross[i * rank + j] * slopes[kept[j]];
      return sum;
    },
  };
}

/** Factors that stand outside what was cut. */
export function outsideFloor(
  { observations }: FloorAsked,
  at: Readonly<Record<string, Setting>>,
): readonly string[] {
  return observations.factors
    .filter(
      ({ name, kind, low, high }) =>
        kind === "quantity" && (Number(at[name]) < low * (1 - 1e-9) || Number(at[name]) > high * (1 + 1e-9)),
    )
    .map(({ name }) => name);
}

/**
 * Predictions of a floor fit: intervals by Student's t on the logarithm, from the curve's own slopes at the estimate (Bates and Watts 1988, section 2.3). Every
 * factor of the fit must be given. With weights a single run is one of weight 1.
 */
export function floorPredictor(
  asked: FloorAsked,
): (at: Readonly<Record<string, Setting>>) => FloorPrediction {
  const { fit, unit, confidence } = asked;
  const { at: pointAt, cross } = floorSlopes(asked);
  const variance = fit.residualSumOfSquares / fit.df;
  const t = tQuantile((1 + confidence) / 2, fit.df);
  return (at) => {
    const { value, slopes } = pointAt(at);
    if (Number.isNaN(value))
      throw modelError(
        `a prediction at ${placeText(asked, at)}, where ${nothingLeft}`,
        "settings near to what was cut",
        "Fit a power law without a floor.",
      );
    const range = (spread: number) => {
      const half = t * Math.sqrt(variance * spread);
      return { low: unit * Math.exp(value - half), high: unit * Math.exp(value + half) };
    };
    const estimate = unit * Math.exp(value);
    const own = cross(slopes);
    const [mean, single] = [range(own), range(1 + own)];
    requireReached(
      [estimate, mean.low, mean.high, single.low, single.high],
      `a prediction at ${placeText(asked, at)}`,
    );
    const answer = { at, estimate, mean, single, extrapolation: outsideFloor(asked, at) };
    return {
      ...answer,
      // Made when read: a figure asks for hundreds of predictions and reads none of them.
      get text() {
        return predictionText(asked, answer);
      },
    };
  };
}

/** Below the marks of a law whose floor runs on below zero; see `floorModel`. */
export const nothingLeft = "nothing is left of the law: its floor came out below none";

function placeText({ observations }: FloorAsked, at: Readonly<Record<string, Setting>>): string {
  return observations.factors.map((factor) => settingWithUnit(factor, at[factor.name])).join(", ");
}

function predictionText(
  asked: FloorAsked,
  { at, estimate, mean, single, extrapolation }: Omit<FloorPrediction, "text">,
): string {
  const { name, unit } = asked.observations.response;
  const half = (mean.high - mean.low) / 2;
  const range = ({ low, high }: FloorPrediction["mean"]): string =>
    `${rounded(low, half)} to ${rounded(high, half)}${unitText(unit)}`;
  const warn = extrapolation.length === 0 ? "" : ` Outside what was cut: ${extrapolation.join(", ")}.`;
  return `At ${placeText(asked, at)} the median of ${name} is ${rounded(estimate, half)}${unitText(unit)} (${percent(asked.confidence)} ${range(mean)}; a single run ${range(single)}).${warn}`;
}

function checkSetting(
  { name, kind, levels }: Observations["factors"][number],
  setting: Setting | undefined,
): void {
  if (setting === undefined)
    throw modelError(
      `no setting of ${name}`,
      kind === "quantity" ? "a number above zero" : listed(levels, "or"),
    );
  if (kind === "quantity" && !(Number(setting) > 0))
    throw modelError(`${name} ${setting}`, "a number above zero");
  if (kind === "category" && !levels.includes(String(setting)))
    throw modelError(`${name} ${setting}`, listed(levels, "or"));
}
