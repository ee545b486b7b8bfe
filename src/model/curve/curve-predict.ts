import { listed } from "../../units/index.ts";
import { tQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { checkConfidence } from "../predict.ts";
import { percent, rounded, unitText } from "../words.ts";
import type { CurveFit, CurvePrediction } from "./curve-fit.ts";
import type { Curve } from "./curve-model.ts";

export type Told = Omit<CurveFit, "predict" | "change" | "settingFor">;

/** Every column that the curve uses, as a number. */
export function checkedAt(curve: Curve, at: Readonly<Record<string, unknown>>): Float64Array {
  const stray = Object.keys(at).find((name) => !curve.columns.includes(name));
  if (stray !== undefined)
    throw modelError(
      `a setting of ${stray}, which the curve doesn't use`,
      curve.columns.length === 0 ? "none" : `settings of ${listed(curve.columns)}`,
    );
  return Float64Array.from(curve.columns, (name) => {
    const value = at[name];
    if (typeof value === "number" && Number.isFinite(value)) return value;
    throw modelError(`${name} ${JSON.stringify(value) ?? "left out"}`, "a finite number");
  });
}

/** The curve at a place, and its slopes in the parameters there. */
export function curveAt(
  curve: Curve,
  fit: Told,
  at: Readonly<Record<string, unknown>>,
): { readonly value: number; readonly slope: Float64Array; readonly extrapolation: readonly string[] } {
  const settings = checkedAt(curve, at);
  const value = new Float64Array(1);
  const slope = new Float64Array(fit.parameters.length);
  const columns = [...settings].map((one) => Float64Array.of(one));
  curve.on(columns, 1).evaluate(
    Float64Array.from(fit.parameters, ({ estimate }) => estimate),
    value,
    slope,
  );
  const extrapolation = fit.columns
    .filter(
      ({ low, high }, k) =>
        settings[k] < low - 1e-9 * (high - low) || settings[k] > high + 1e-9 * (high - low),
    )
    .map(({ name }) => name);
  return { value: value[0], slope, extrapolation };
}

/** The variance of a combination of parameters. */
export function varianceAlong(slope: Float64Array, covariance: readonly (readonly number[])[]): number {
  const sum = slope.reduce(
    (total, one, j) => total + one * slope.reduce((inner, other, k) => inner + covariance[j][k] * other, 0),
    0,
  );
  return Math.max(0, sum);
}

export function curvePredictor(curve: Curve, fit: Told, weighted: boolean): CurveFit["predict"] {
  return (at, { confidence = fit.confidence } = {}) => {
    checkConfidence(confidence);
    const { value, slope, extrapolation } = curveAt(curve, fit, at);
    const base = { at: { ...at }, confidence, extrapolation };
    if (!Number.isFinite(value))
      return told(fit, {
        ...base,
        estimate: null,
        mean: null,
        single: null,
        reason: "the curve can't be computed there",
      });
    const estimate = value;
    if (fit.covariance === null || fit.residualSd === null || !slope.every(Number.isFinite))
      return told(fit, {
        ...base,
        estimate,
        mean: null,
        single: null,
        reason: fit.noInterval || "the curve has no slope there",
      });
    const variance = varianceAlong(slope, fit.covariance);
    const reach = tQuantile((1 + confidence) / 2, fit.df);
    const about = (spread: number) => ({
      low: estimate - reach * Math.sqrt(spread),
      high: estimate + reach * Math.sqrt(spread),
    });
    return told(fit, {
      ...base,
      estimate,
      mean: about(variance),
      single: weighted ? null : about(variance + fit.residualSd ** 2),
      reason: "",
    });
  };
}

function told(fit: Told, prediction: Omit<CurvePrediction, "text">): CurvePrediction {
  const { at, estimate, mean, single, confidence, extrapolation, reason } = prediction;
  const place = fit.columns.map(({ name, unit }) => `${name} ${at[name]}${unitText(unit)}`).join(", ");
  const where = place === "" ? "" : `At ${place} `;
  if (estimate === null)
    return { ...prediction, text: `${where}${fit.response.name} is not known: ${reason}.` };
  const unit = unitText(fit.response.unit);
  const half = mean === null ? Math.abs(estimate) / 100 : (mean.high - mean.low) / 2;
  const range = (ends: { low: number; high: number }): string =>
    `${rounded(ends.low, half)} to ${rounded(ends.high, half)}${unit}`;
  const interval =
    mean === null
      ? `no interval: ${reason}`
      : `${percent(confidence)} ${range(mean)}${single === null ? "" : `; one more row ${range(single)}`}`;
  const warn = extrapolation.length === 0 ? "" : ` Outside what was cut: ${extrapolation.join(", ")}.`;
  return {
    ...prediction,
    text: `${where}${fit.response.name} is ${rounded(estimate, half)}${unit} (${interval}).${warn}`,
  };
}
