import { nonlinearLeastSquares, tQuantile } from "../../numerics/index.ts";
import type { NonlinearFit } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { checkConfidence } from "../predict.ts";
import { safePieces } from "../safe-pieces.ts";
import type { CurveFit } from "./curve-fit.ts";
import type { Curve } from "./curve-model.ts";
import type { CurveTable } from "./curve-table.ts";
import { checkedAt } from "./curve-predict.ts";
import type { SettingFor, SettingForOptions } from "./setting-answer.ts";

/** Weight of a row that the curve must go through, against the others' 1: what it leaves open is far below what an interval shows. */
const through = 1e10;
/** Steps of the first search along the range; each is a fit of the curve. */
const steps = 64;

/**
 * The setting of one column of a curve that gives a response, and the settings that the data don't rule out: those at which the curve, fitted anew with the response as one
 * more row there (or made to go through it, for a wanted mean), loses no more than t² residual variances. For a straight line that is Fieller's interval.
 */
export function curveSetting(
  curve: Curve,
  data: CurveTable,
  fit: NonlinearFit,
  told: Pick<CurveFit, "columns" | "confidence" | "noInterval" | "residualSd">,
  options: SettingForOptions,
): SettingFor {
  const { factor: name, response, readings = 1, at = {}, confidence = told.confidence } = options;
  checkConfidence(confidence);
  const place = curve.columns.indexOf(name);
  const column = told.columns.find((one) => one.name === name);
  if (column === undefined) throw modelError(`the column "${name}"`, "one that the curve uses");
  if (!Number.isFinite(response)) throw modelError(`a response of ${response}`, "a finite number");
  if (!(readings === Infinity || (Number.isInteger(readings) && readings > 0)))
    throw modelError(`${readings} readings`, "a whole number above zero, or Infinity for a wanted mean");
  if (told.noInterval !== "" || told.residualSd === null)
    throw modelError(`a curve without intervals (${told.noInterval})`, "a curve with scatter");
  if (data.weights !== undefined && readings !== Infinity)
    throw modelError("a number of readings for weighted rows", "Infinity, for a wanted mean");
  const settings = checkedAt(curve, { ...at, [name]: column.low });
  const rows = data.response.values.length;
  const more = (values: ArrayLike<number>, last: number): Float64Array =>
    Float64Array.from([...Array.from(values), last]);
  const columns = data.columns.map((values, k) => more(values, settings[k]));
  const values = more(data.response.values, response);
  const weights = more(
    data.weights ?? new Float64Array(rows).fill(1),
    readings === Infinity ? through : readings,
  );
  const variance = told.residualSd ** 2;
  const allowed = tQuantile((1 + confidence) / 2, fit.df) ** 2 * variance;
  let warm = fit.parameters;
  const gap = (setting: number): number => {
    columns[place][rows] = setting;
    const again = nonlinearLeastSquares(curve.on(columns, rows + 1), values, warm, {
      weights,
      linear: curve.linear,
    });
    if (again.outcome === "not-finite") {
      warm = fit.parameters;
      return Number.MAX_VALUE;
    }
    warm = again.parameters;
    return again.residualSumOfSquares - fit.residualSumOfSquares - allowed;
  };
  const { low, high } = column;
  const width = high - low;
  // A column of positive settings is not searched below zero.
  const from = low > 0 ? Math.max(low - width, low / 4) : low - width;
  const to = high + width;
  const pieces = safePieces(gap, from, to, { steps });
  const one = curve.columns.map((_, k) => Float64Array.of(settings[k]));
  const off = (setting: number): number => {
    one[place][0] = setting;
    const value = new Float64Array(1);
    curve.on(one, 1).evaluate(fit.parameters, value, new Float64Array(fit.parameters.length));
    return response - value[0];
  };
  const crossings = safePieces(off, low, high).flatMap((piece) => [piece.low, piece.high]);
  return {
    factor: name,
    unit: column.unit,
    estimate: crossings.find((setting) => setting > low && setting < high) ?? null,
    pieces: pieces.map((piece) => ({
      low: piece.low <= from ? null : piece.low,
      high: piece.high >= to ? null : piece.high,
    })),
    confidence,
  };
}
