import { listed } from "../../units/index.ts";
import { tQuantile, type LeastSquares, type NonlinearFit } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Curve } from "./curve-model.ts";
import type { CurveTable } from "./curve-table.ts";
import { profileInterval } from "./profile-interval.ts";
import { profileTrace, type ParameterProfile } from "./profile-trace.ts";

/** Beyond the interval's ends the profile is drawn by this share of its width; an open side by so many standard errors. */
const beyond = 0.3;
const openReach = 6;

/** The profile of one parameter of a fitted curve, with the interval that it gives. Refuses an unknown name. */
export function curveProfile(
  fit: NonlinearFit,
  given: {
    readonly curve: Curve;
    readonly data: CurveTable;
    readonly confidence: number;
    readonly name: string;
    readonly local: LeastSquares;
  },
): ParameterProfile {
  const { curve, data, confidence, name, local } = given;
  const parameter = curve.parameters.indexOf(name);
  if (parameter < 0) throw modelError(`"${name}" as a parameter`, listed(curve.parameters, "or"));
  const { values } = data.response;
  const model = curve.on(data.columns, values.length);
  const limit = tQuantile((1 + confidence) / 2, fit.df);
  const standardError = Math.sqrt(
    (fit.residualSumOfSquares / fit.df) * local.inverseCross[parameter * local.rank + parameter],
  );
  const common = { parameter, linear: curve.linear, weights: data.weights };
  const { low, high } = profileInterval(model, values, fit, { ...common, standardError, t: limit });
  const estimate = fit.parameters[parameter];
  const far = openReach * standardError;
  return {
    name,
    unit: "",
    estimate,
    low,
    high,
    confidence,
    limit,
    points: profileTrace(model, values, fit, {
      ...common,
      low: low === null ? estimate - far : low - beyond * (estimate - low),
      high: high === null ? estimate + far : high + beyond * (high - estimate),
    }),
  };
}
