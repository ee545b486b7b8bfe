import { listed } from "../../units/index.ts";
import { leastSquares, nonlinearLeastSquares, tQuantile } from "../../numerics/index.ts";
import type { NonlinearFit, NonlinearModel } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { checkConfidence } from "../predict.ts";
import type { TableColumn } from "../table-column.ts";
import type { CurveFit } from "./curve-fit.ts";
import { curveOf } from "./curve-model.ts";
import type { Curve } from "./curve-model.ts";
import { curveTable } from "./curve-table.ts";
import type { CurveTable } from "./curve-table.ts";
import { parseExpression } from "./parse-expression.ts";
import { curveProfile } from "./curve-profile.ts";
import { profileInterval } from "./profile-interval.ts";

export interface CurveOptions {
  /** The column to explain, or an expression of columns such as log(y). */
  readonly response: string;
  readonly expression: string;
  /** A start for each parameter. */
  readonly start: Readonly<Record<string, number>>;
  /** Of the intervals. Default 0.95. */
  readonly confidence?: number;
  /** Inverse variances up to a factor, one a row. Default: all alike. */
  readonly weights?: readonly number[];
  /** "linear": estimate ± t standard errors. "profile": by profile likelihood, which need not be symmetric. Default "linear". */
  readonly intervals?: "linear" | "profile";
}

/** First trust radii, tried in turn until a search converges; the middle one is right for most starts. */
const radii = [1, 0.1, 100];

/**
 * Fits a curve given by an expression: least squares, with derivatives formed from the expression and linear parameters solved for at every step.
 *
 * Use it for tool life, approach to a limit, and whatever a power law or a surface does not describe. `table` holds columns of one length; rows in which a
 * column that is used is blank are left out, and a note says so. Returned: parameters with standard errors and linear (symmetric) intervals by Student's t.
 * A search that does not converge, or parameters that can't be told apart, are answers: `converged` false, `reason`, and no intervals.
 * Refused: expressions that can't be read, names that are neither column nor parameter, fewer rows than parameters, a start at which the curve can't be
 * computed (the row is named).
 * Accuracy: at least 10 digits on NIST's nonlinear reference sets; see `nonlinearLeastSquares`.
 * Source: Bates and Watts 1988, Nonlinear Regression Analysis and Its Applications, chapter 2.
 * Example: y 1, 2, 4, 8.1 at x 0, 1, 2, 3 with b1*exp(b2*x) from b1 = 1, b2 = 1 gives b2 of about 0.7.
 */
export function fitCurve(
  table: { readonly columns: readonly TableColumn[]; readonly rowNames?: readonly string[] },
  options: CurveOptions,
): CurveFit {
  const { confidence = 0.95, start, weights, intervals = "linear" } = options;
  checkConfidence(confidence);
  const names = Object.keys(start);
  if (names.length === 0) throw modelError("no parameter with a start", "at least one, such as b1 = 1");
  for (const name of names)
    if (!Number.isFinite(start[name]))
      throw modelError(`${name} = ${start[name]} as a start`, "a finite number");
  const expression = parseExpression(options.expression);
  for (const name of names) {
    if (!expression.names.includes(name))
      throw modelError(
        `a start for ${name}, which is not in the expression`,
        `starts for ${listed(expression.names)} as needed`,
      );
    if (table.columns.some((column) => column.name === name))
      throw modelError(
        `${name} as a column and a parameter`,
        "one or the other",
        "Call the parameter otherwise.",
      );
  }
  const curve = curveOf(
    expression,
    table.columns.map(({ name }) => name),
    names,
  );
  const data = curveTable(table, options.response, curve.columns, weights);
  const { response } = data;
  if (response.values.length < names.length)
    throw modelError(
      `${response.values.length} rows for ${names.length} parameters`,
      "at least one row a parameter",
      "Cut more runs, or fix a parameter by writing its number in the expression.",
    );
  const model = curve.on(data.columns, response.values.length);
  const first = Float64Array.from(names, (name) => start[name]);
  const fit = searched(model, curve, data, first);
  if (fit.outcome === "not-finite") throw notFinite(curve, data, model, first);
  const result = told(fit, curve, data, confidence);
  return intervals === "profile" ? profiled(result, fit, curve, data, model) : result;
}

function searched(
  model: NonlinearModel,
  curve: Curve,
  { response, weights }: CurveTable,
  start: Float64Array,
): NonlinearFit {
  let best: NonlinearFit | null = null;
  for (const firstRadius of radii) {
    // The last road searches for all parameters, in case solving for some is what led astray.
    const linear = firstRadius === 100 ? [] : curve.linear;
    const fit = nonlinearLeastSquares(model, response.values, start, { linear, firstRadius, weights });
    if (fit.outcome === "converged" || fit.outcome === "exact") return fit;
    if (
      best === null ||
      fit.residualSumOfSquares < best.residualSumOfSquares ||
      best.outcome === "not-finite"
    )
      best = fit;
  }
  return best!;
}

function told(fit: NonlinearFit, curve: Curve, data: CurveTable, confidence: number): CurveFit {
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
  const profileOf = (name: string) =>
    known ? curveProfile(fit, { curve, data, confidence, name, local }) : null;
  return {
    kind: "curve",
    expression: curve.expression.text,
    response: { name: data.response.name, unit: data.response.unit },
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
    rows: data.rowNames.map((name, i) => ({
      row: name,
      value: data.response.values[i],
      fitted: fit.fitted[i],
      residual: fit.residuals[i],
      leverage: local.leverage[i],
    })),
    notes: [...data.notes, ...roundingNote(fit, converged)],
    profile: profileOf,
  };
}

/** The same fit with intervals by profile likelihood; a fit without intervals stays without. */
function profiled(
  result: CurveFit,
  fit: NonlinearFit,
  curve: Curve,
  data: CurveTable,
  model: NonlinearModel,
): CurveFit {
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

function notFinite(curve: Curve, data: CurveTable, model: NonlinearModel, start: Float64Array): Error {
  const rows = data.rowNames.length;
  const value = new Float64Array(rows);
  const jacobian = new Float64Array(rows * start.length);
  model.evaluate(start, value, jacobian);
  const names = curve.parameters.map((name, k) => `${name} = ${start[k]}`).join(", ");
  const place = (i: number) =>
    `${data.rowNames[i]}${curve.columns.length > 0 ? ` (${curve.columns.map((name, k) => `${name} ${data.columns[k][i]}`).join(", ")})` : ""}`;
  const mend = "Try another start, or leave the row out.";
  const row = value.findIndex((one) => !Number.isFinite(one));
  if (row >= 0)
    return modelError(
      `${place(row)}: the curve is ${value[row]} at the start ${names}`,
      "a finite value in every row",
      mend,
    );
  const entry = jacobian.findIndex((one) => !Number.isFinite(one));
  if (entry >= 0)
    return modelError(
      `${place(entry % rows)}: the derivative with respect to ${curve.parameters[Math.floor(entry / rows)]} is ${jacobian[entry]} at the start ${names}`,
      "a finite value in every row",
      mend,
    );
  return modelError(
    `the start ${names}, from which the linear parameters can't be solved for`,
    "a start at which the curve can be computed",
    mend,
  );
}
