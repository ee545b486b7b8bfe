import { listed } from "../../units/index.ts";
import type { NonlinearModel } from "../../numerics/index.ts";
import type { Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import { checkConfidence } from "../predict.ts";
import type { Observations } from "../observations.ts";
import type { CurveFit } from "./curve-fit.ts";
import { curveOf } from "./curve-model.ts";
import type { Curve } from "./curve-model.ts";
import { curveTable } from "./curve-table.ts";
import type { CurveTable } from "./curve-table.ts";
import { curveColumns, type CurveColumns } from "./curve-source.ts";
import { searchedFromMany, type StartOptions } from "./curve-search.ts";
import { parseExpression } from "./parse-expression.ts";
import { toldCurve } from "./told-curve.ts";

export interface CurveOptions extends StartOptions {
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

/**
 * Fits a curve given by an expression: least squares, with derivatives formed from the expression and linear parameters solved for at every step.
 *
 * Use it for tool life, approach to a limit, and whatever a power law or a surface does not describe. The source is a trial or observations (a row a run, the mean
 * of its readings, columns by the factors' names), or columns of one length, where rows in which a column that is used is blank are left out, and a note says so. With several
 * `starts` the best fit is kept, and how many starts reached it is told. Returned: parameters with standard errors and linear (symmetric) intervals by Student's t.
 * A search that does not converge, or parameters that can't be told apart, are answers: `converged` false, `reason`, and no intervals.
 * Refused: expressions that can't be read, names that are neither column nor parameter, fewer rows than parameters, a start at which the curve can't be
 * computed (the row is named).
 * Accuracy: at least 10 digits on NIST's nonlinear reference sets; see `nonlinearLeastSquares`. Of 10,000 drawn approaches to a limit each, of 8 and 16 runs, 95 % intervals of the rate
 * held in 94.5 and 94.9 % by profile likelihood, 94.7 and 94.9 % by the slope.
 * Source: Bates and Watts 1988, Nonlinear Regression Analysis and Its Applications, chapter 2.
 * Example: y 1, 2, 4, 8.1 at x 0, 1, 2, 3 with b1*exp(b2*x) from b1 = 1, b2 = 1 gives b2 of about 0.7.
 */
export function fitCurve(source: Trial | Observations | CurveColumns, options: CurveOptions): CurveFit {
  const { confidence = 0.95, start, weights, intervals = "linear" } = options;
  checkConfidence(confidence);
  const names = Object.keys(start);
  if (names.length === 0) throw modelError("no parameter with a start", "at least one, such as b1 = 1");
  for (const name of names)
    if (!Number.isFinite(start[name]))
      throw modelError(`${name} = ${start[name]} as a start`, "a finite number");
  const { table, notes } = curveColumns(source, options.response);
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
  const made = curveTable(table, options.response, curve.columns, weights);
  const data = { ...made, notes: [...notes, ...made.notes] };
  const { response } = data;
  if (response.values.length < names.length)
    throw modelError(
      `${response.values.length} rows for ${names.length} parameters`,
      "at least one row a parameter",
      "Cut more runs, or fix a parameter by writing its number in the expression.",
    );
  const model = curve.on(data.columns, response.values.length);
  const first = Float64Array.from(names, (name) => start[name]);
  const { fit, starts } = searchedFromMany(model, curve, data, first, options);
  if (fit.outcome === "not-finite") throw notFinite(curve, data, model, first);
  const unitOf = (name: string): string => table.columns.find((column) => column.name === name)?.unit ?? "";
  return toldCurve({ fit, starts, curve, data, model, confidence, unitOf }, intervals);
}

/** What stands in the place of a number. */
const noNumber = (value: number): string => (Number.isNaN(value) ? "not to be computed" : "without end");

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
      `${place(row)}: the curve is ${noNumber(value[row])} at the start ${names}`,
      "a finite value in every row",
      mend,
    );
  const entry = jacobian.findIndex((one) => !Number.isFinite(one));
  if (entry >= 0)
    return modelError(
      `${place(entry % rows)}: the derivative with respect to ${curve.parameters[Math.floor(entry / rows)]} is ${noNumber(jacobian[entry])} at the start ${names}`,
      "a finite value in every row",
      mend,
    );
  return modelError(
    `the start ${names}, from which the linear parameters can't be solved for`,
    "a start at which the curve can be computed",
    mend,
  );
}
