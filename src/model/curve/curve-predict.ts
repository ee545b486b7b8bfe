import { listed } from "../../units/index.ts";
import { tQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { checkConfidence } from "../predict.ts";
import { percent, rounded, unitText } from "../words.ts";
import type { CurveFit, CurvePrediction } from "./curve-fit.ts";
import type { Curve } from "./curve-model.ts";

type Told = Omit<CurveFit, "predict" | "settingFor">;

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

export function curvePredictor(curve: Curve, fit: Told, weighted: boolean): CurveFit["predict"] {
  const parameters = Float64Array.from(fit.parameters, ({ estimate }) => estimate);
  return (at, { confidence = fit.confidence } = {}) => {
    checkConfidence(confidence);
    const settings = checkedAt(curve, at);
    const value = new Float64Array(1);
    const slope = new Float64Array(parameters.length);
    curve
      .on(
        [...settings].map((one) => Float64Array.of(one)),
        1,
      )
      .evaluate(parameters, value, slope);
    const extrapolation = fit.columns
      .filter(
        ({ low, high }, k) =>
          settings[k] < low - 1e-9 * (high - low) || settings[k] > high + 1e-9 * (high - low),
      )
      .map(({ name }) => name);
    const base = { at: { ...at }, confidence, extrapolation };
    if (!Number.isFinite(value[0]))
      return told(fit, {
        ...base,
        estimate: null,
        mean: null,
        single: null,
        reason: "the curve can't be computed there",
      });
    const estimate = value[0];
    if (fit.covariance === null || fit.residualSd === null || !slope.every(Number.isFinite))
      return told(fit, {
        ...base,
        estimate,
        mean: null,
        single: null,
        reason: fit.noInterval || "the curve has no slope there",
      });
    const { covariance } = fit;
    const variance = slope.reduce(
      (sum, one, j) => sum + one * slope.reduce((inner, other, k) => inner + covariance[j][k] * other, 0),
      0,
    );
    const reach = tQuantile((1 + confidence) / 2, fit.df);
    const about = (spread: number) => ({
      low: estimate - reach * Math.sqrt(spread),
      high: estimate + reach * Math.sqrt(spread),
    });
    const own = Math.max(0, variance);
    return told(fit, {
      ...base,
      estimate,
      mean: about(own),
      single: weighted ? null : about(own + fit.residualSd ** 2),
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
