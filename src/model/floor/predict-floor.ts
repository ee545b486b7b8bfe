import { leastSquares, tQuantile, type NonlinearFit } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import type { Setting } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Observations } from "../observations.ts";
import { floorModel, type FloorForm, type LawPart } from "./floor-model.ts";

export interface FloorPrediction {
  readonly at: Readonly<Record<string, Setting>>;
  /** The median, in the response's unit. */
  readonly estimate: number;
  readonly mean: { readonly low: number; readonly high: number };
  readonly single: { readonly low: number; readonly high: number };
  /** What lies outside what was cut; empty inside. */
  readonly extrapolation: readonly string[];
}

/**
 * Predictions of a floor fit: intervals by Student's t on the logarithm, from the curve's own slopes at the estimate (Bates and Watts 1988, section 2.3). Every
 * factor of the fit must be given.
 */
export function floorPredictor(given: {
  readonly fit: NonlinearFit;
  readonly form: FloorForm;
  readonly parts: readonly LawPart[];
  readonly unit: number;
  readonly confidence: number;
  readonly observations: Observations;
}): (at: Readonly<Record<string, Setting>>) => FloorPrediction {
  const { fit, form, parts, unit, confidence, observations } = given;
  const rows = fit.fitted.length;
  const count = parts.length + 2;
  const local = leastSquares(
    Array.from({ length: count }, (_, k) => ({ high: fit.jacobian.slice(k * rows, (k + 1) * rows) })),
    fit.residuals,
  );
  const variance = fit.residualSumOfSquares / fit.df;
  const t = tQuantile((1 + confidence) / 2, fit.df);
  return (at) => {
    for (const factor of observations.factors) checkSetting(factor, at[factor.name]);
    const point = floorModel(
      form,
      parts.map(({ of }) => Float64Array.of(of(at))),
      1,
    );
    const value = new Float64Array(1);
    const slopes = new Float64Array(count);
    point.evaluate(fit.parameters, value, slopes);
    let cross = 0;
    for (let i = 0; i < local.rank; i++)
      for (let j = 0; j < local.rank; j++)
        cross += slopes[local.kept[i]] * local.inverseCross[i * local.rank + j] * slopes[local.kept[j]];
    const range = (spread: number) => {
      const half = t * Math.sqrt(variance * spread);
      return { low: unit * Math.exp(value[0] - half), high: unit * Math.exp(value[0] + half) };
    };
    const extrapolation = observations.factors
      .filter(
        ({ name, kind, low, high }) =>
          kind === "quantity" &&
          (Number(at[name]) < low * (1 - 1e-9) || Number(at[name]) > high * (1 + 1e-9)),
      )
      .map(({ name }) => name);
    return {
      at,
      estimate: unit * Math.exp(value[0]),
      mean: range(cross),
      single: range(1 + cross),
      extrapolation,
    };
  };
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
