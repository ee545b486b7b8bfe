import { leastSquares, tQuantile } from "../../numerics/index.ts";
import { profileInterval, type ProfileInterval } from "../curve/profile-interval.ts";
import { floorModel } from "./floor-model.ts";
import type { Found } from "./floor-profile.ts";

/** Profile intervals, each made when it is asked for. */
export function parameterIntervals({
  fit,
  form,
  data,
  input,
}: Pick<Found, "fit" | "form" | "data" | "input">): (parameter: number) => ProfileInterval {
  const rows = data.response.length;
  const count = data.columns.length + 2;
  const model = floorModel(form, data.columns, rows);
  const variance = fit.residualSumOfSquares / fit.df;
  const local = leastSquares(
    Array.from({ length: count }, (_, k) => ({ high: fit.jacobian.slice(k * rows, (k + 1) * rows) })),
    fit.residuals,
    data.weights === undefined ? {} : { weights: data.weights },
  );
  const t = tQuantile((1 + input.confidence) / 2, fit.df);
  return (parameter: number): ProfileInterval => {
    if (local.rank < count) return { low: null, high: null };
    // Runs that are met exactly leave no scatter, and every parameter stands.
    if (fit.outcome === "exact") return { low: fit.parameters[parameter], high: fit.parameters[parameter] };
    return profileInterval(model, data.response, fit, {
      parameter,
      standardError: Math.sqrt(variance * local.inverseCross[parameter * count + parameter]),
      t,
      linear: [],
      weights: data.weights,
    });
  };
}

/**
 * The same fit with the law's constant as it is written, ln C at settings of 1, in place of the one in the middle of the factors: only so does the profile of
 * parameter 1 belong to C.
 */
export function withWrittenConstant({
  fit,
  form,
  data,
  input,
  parts,
}: Found): Pick<Found, "fit" | "form" | "data" | "input"> {
  const rows = data.response.length;
  const parameters = fit.parameters.slice();
  const jacobian = fit.jacobian.slice();
  parts.forEach(({ middle }, k) => {
    parameters[1] -= fit.parameters[k + 2] * middle;
    for (let i = 0; i < rows; i++) jacobian[(k + 2) * rows + i] += middle * fit.jacobian[rows + i];
  });
  const columns = data.columns.map((column, k) => column.map((value) => value + parts[k].middle));
  return { fit: { ...fit, parameters, jacobian }, form, data: { ...data, columns }, input };
}
