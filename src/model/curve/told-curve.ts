import { listed } from "../../units/index.ts";
import { leastSquares, tQuantile } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";
import type { CurveFit, CurveStarts } from "./curve-fit.ts";
import type { Curve } from "./curve-model.ts";
import { curveChange } from "./curve-change.ts";
import { curveProfile } from "./curve-profile.ts";
import { curvePredictor } from "./curve-predict.ts";
import { curveSetting } from "./curve-setting.ts";
import type { CurveTable } from "./curve-table.ts";
import { profileInterval } from "./profile-interval.ts";

/** A search with what it was made for. */
export interface SearchedCurve {
  readonly fit: NonlinearFit;
  readonly starts: CurveStarts | null;
  readonly curve: Curve;
  readonly data: CurveTable;
  readonly model: NonlinearModel;
  readonly confidence: number;
  /** Unit of a column. */
  readonly unitOf: (column: string) => string;
}

type Figures = Omit<CurveFit, "predict" | "change" | "settingFor">;

/** The answer of a search: parameters with intervals where there can be any, rows, and functions to ask. */
export function toldCurve(searched: SearchedCurve, intervals: "linear" | "profile"): CurveFit {
  const linear = figures(searched);
  const told = intervals === "profile" ? profiled(linear, searched) : linear;
  const { curve, data, fit } = searched;
  return {
    ...told,
    predict: curvePredictor(curve, told, data.weights !== undefined),
    change: curveChange(curve, told),
    settingFor: (options) => curveSetting(curve, data, fit, told, options),
  };
}

function figures({ fit, starts, curve, data, confidence, unitOf }: SearchedCurve): Figures {
  const rows = data.response.values.length;
  const converged = fit.outcome === "converged" || fit.outcome === "exact";
  const residualSd = fit.df > 0 ? Math.sqrt(fit.residualSumOfSquares / fit.df) : null;
  const local = leastSquares(
    curve.parameters.map((_, k) => ({ high: fit.jacobian.slice(k * rows, (k + 1) * rows) })),
    fit.residuals,
    { weights: data.weights },
  );
  const known = converged && residualSd !== null && local.rank === curve.parameters.length;
  const t = fit.df > 0 ? tQuantile((1 + confidence) / 2, fit.df) : NaN;
  const reason = reasonOf(fit, curve.parameters);
  const covariance = known
    ? curve.parameters.map((_, j) =>
        curve.parameters.map((__, k) => residualSd ** 2 * local.inverseCross[j * local.rank + k]),
      )
    : null;
  return {
    kind: "curve",
    expression: curve.expression.text,
    response: { name: data.response.name, unit: data.response.unit },
    columns: curve.columns.map((name, k) => ({
      name,
      unit: unitOf(name),
      low: data.columns[k].reduce((least, value) => Math.min(least, value)),
      high: data.columns[k].reduce((most, value) => Math.max(most, value)),
    })),
    confidence,
    intervals: "linear",
    parameters: curve.parameters.map((name, k) => {
      const estimate = fit.parameters[k];
      const standardError = known ? residualSd * Math.sqrt(local.inverseCross[k * local.rank + k]) : null;
      return {
        name,
        estimate,
        standardError,
        low: standardError === null ? null : estimate - t * standardError,
        high: standardError === null ? null : estimate + t * standardError,
        linear: curve.linear.includes(k),
      };
    }),
    covariance,
    residualSumOfSquares: fit.residualSumOfSquares,
    residualSd,
    df: fit.df,
    converged,
    reason,
    relativeOffset: fit.relativeOffset,
    noInterval: known
      ? ""
      : converged
        ? "there are as many parameters as rows, so no scatter is left to judge by"
        : reason,
    starts,
    rows: data.rowNames.map((name, i) => ({
      row: name,
      value: data.response.values[i],
      fitted: fit.fitted[i],
      residual: fit.residuals[i],
      leverage: local.leverage[i],
    })),
    notes: [...data.notes, ...(starts === null ? [] : [starts.sentence]), ...roundingNote(fit, converged)],
    profile: (name) => (known ? curveProfile(fit, { curve, data, confidence, name, local }) : null),
  };
}

/** The same fit with intervals by profile likelihood; a fit without intervals stays without. */
function profiled(result: Figures, { fit, curve, data, model }: SearchedCurve): Figures {
  if (result.noInterval !== "") return result;
  const t = tQuantile((1 + result.confidence) / 2, fit.df);
  const parameters = result.parameters.map((parameter, k) => ({
    ...parameter,
    ...profileInterval(model, data.response.values, fit, {
      parameter: k,
      standardError: parameter.standardError!,
      t,
      linear: curve.linear,
      weights: data.weights,
    }),
  }));
  const open = parameters.filter(({ low, high }) => low === null || high === null).map(({ name }) => name);
  const note = `The data set no bound on one side of ${listed(open)}: however far it goes, the curve still fits.`;
  return {
    ...result,
    parameters,
    intervals: "profile",
    notes: open.length === 0 ? result.notes : [...result.notes, note],
  };
}

function reasonOf(fit: NonlinearFit, names: readonly string[]): string {
  switch (fit.outcome) {
    case "converged":
      return `converged: relative offset ${(fit.relativeOffset ?? 0).toExponential(1)} after ${fit.iterations} steps`;
    case "exact":
      return "converged: the curve goes through every reading, to rounding";
    case "inseparable":
      return `${listed(fit.inseparable.map((k) => names[k]))} can't be told from these rows where the search ended: other values fit as well. Try another start, or a curve with fewer parameters`;
    case "limit":
      return "the steps allowed were used up before the search settled. Try a start nearer the answer";
    default:
      return "the search came to a halt before it settled. Try another start";
  }
}

function roundingNote({ roundingOffset }: NonlinearFit, converged: boolean): readonly string[] {
  if (!converged || roundingOffset === null || roundingOffset < 1e-7) return [];
  return [
    "The residuals are near the rounding of the numbers themselves, so the standard errors hold few digits.",
  ];
}
