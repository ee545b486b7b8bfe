import { untoldChange, type ChangeBetween } from "../contrast/fitted-change.ts";
import type { Curve } from "./curve-model.ts";
import { curveAt, varianceAlong, type Told } from "./curve-predict.ts";

/** The change of a curve between two places, by its slopes in the parameters (delta method; Bates and Watts 1988, section 2.3). */
export function curveChange(curve: Curve, fit: Told): ChangeBetween {
  return (from, to) => {
    const [lower, upper] = [curveAt(curve, fit, from), curveAt(curve, fit, to)];
    const about = {
      stands: [],
      absent: [],
      extrapolation: [...new Set([...lower.extrapolation, ...upper.extrapolation])],
    };
    const estimate = upper.value - lower.value;
    if (!Number.isFinite(estimate)) return untoldChange("the curve can't be computed there", about);
    const step = upper.slope.map((slope, k) => slope - lower.slope[k]);
    if (fit.covariance === null || !step.every(Number.isFinite))
      return {
        ...about,
        estimate,
        standardError: null,
        df: null,
        reason: fit.noInterval || "the curve has no slope there",
      };
    return {
      ...about,
      estimate,
      standardError: Math.sqrt(varianceAlong(step, fit.covariance)),
      df: fit.df,
      reason: "",
    };
  };
}
