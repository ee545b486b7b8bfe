import { leastSquares, tTwoSided } from "../../numerics/index.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { columnsOf } from "./bootstrap-order.ts";

/** What one more column would explain of a fit's residuals. */
export interface LeftInResiduals {
  /** Per unit of the column, on the scale that was fitted. */
  readonly slope: number;
  readonly t: number;
  readonly df: number;
  readonly p: number;
}

/** A column of which the model's own leave less than this share of its movement tells nothing by itself. */
const leastShare = 1e-6;
/** Beyond so many rows each look would take a second. */
const mostRows = 200_000;

/**
 * Whether a column that the model doesn't hold (cutting order, minutes of cut, a square, the squared fitted values) goes with the residuals: the t test of that column added to
 * the model, exact for normal scatter. Of a column made from the fitted values too (Tukey's one degree of freedom; Milliken and Graybill 1970). Null where the model
 * already moves with the column, with weights or random sources, without scatter, beyond 200,000 rows, or with fewer than 3 degrees of freedom.
 */
export function leftInResiduals(fit: Fit, column: ArrayLike<number>): LeftInResiduals | null {
  if (
    isMixedFit(fit) ||
    fit.weights !== null ||
    fit.residualDf < 3 ||
    fit.residualSd === null ||
    fit.residualSd === 0 ||
    fit.rows.length > mostRows
  )
    return null;
  const values = Float64Array.from(column);
  if (!values.every(Number.isFinite)) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const about = values.map((value) => value - mean);
  const size = about.reduce((sum, value) => sum + value ** 2, 0);
  const { residuals } = leastSquares(
    columnsOf(fit).map((high) => ({ high })),
    about,
  );
  const free = residuals.reduce((sum, value) => sum + value ** 2, 0);
  if (!(free > leastShare * size)) return null;
  const along = fit.rows.reduce((sum, { residual }, i) => sum + residual * residuals[i], 0);
  const total = fit.rows.reduce((sum, { residual }) => sum + residual ** 2, 0);
  const df = fit.residualDf - 1;
  const slope = along / free;
  const rest = (total - slope * along) / df;
  if (!(rest > 1e-20 * total) || !(total > 0)) return null;
  const t = slope / Math.sqrt(rest / free);
  return { slope, t, df, p: tTwoSided(t, df) };
}
