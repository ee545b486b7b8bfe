import { fTail, leastSquares, tTwoSided } from "../../numerics/index.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit, type MixedFit } from "../mixed/index.ts";
import { columnsOf } from "./bootstrap-order.ts";

/** What one more column would explain of a fit's residuals. */
export interface LeftInResiduals {
  /** Per unit of the column, on the scale that was fitted. */
  readonly slope: number;
  readonly t: number;
  readonly df: number;
  readonly p: number;
}

/** What the levels of a category would explain of a fit's residuals, all together. */
export interface LevelsInResiduals {
  readonly f: number;
  /** Levels less those that the model already tells. */
  readonly df: number;
  readonly denominatorDf: number;
  readonly p: number;
}

/** A column of which the model's own leave less than this share of its movement tells nothing by itself. */
const leastShare = 1e-6;
/** Beyond so many rows each look would take a second. */
const mostRows = 200_000;
/** The same of a fit with random sources, which is fitted anew for each look. */
const mostMixedRows = 5000;

/**
 * Whether a column that the model doesn't hold (cutting order, minutes of cut, a square, the squared fitted values) goes with the residuals: the t test of that column added to
 * the model, exact for normal scatter, weighted rows by their weights. Of a column made from the fitted values too (Tukey's one degree of freedom; Milliken and Graybill 1970).
 * With random sources the whole model is fitted anew with the column in it and judged by Kenward and Roger's method, exact in balanced layouts and near elsewhere.
 *
 * Null where the model already moves with the column, without scatter, with fewer than 3 degrees of freedom, beyond 200,000 rows (5,000 with random sources), or
 * where such a fit can't be had.
 */
export function leftInResiduals(fit: Fit, column: ArrayLike<number>): LeftInResiduals | null {
  const free = freeColumns(fit, [column]);
  if (free === null || free.length === 0) return null;
  if (isMixedFit(fit)) {
    const judged = fit.added(free.map(({ values }) => values));
    if (judged === null || !(judged.standardError > 0)) return null;
    const { estimate: slope, standardError, df } = judged;
    const t = slope / standardError;
    return { slope, t, df, p: tTwoSided(t, df) };
  }
  const { explained, total, slope, free: own } = explainedBy(fit, free);
  const df = fit.residualDf - 1;
  const rest = (total - explained) / df;
  if (!(rest > 1e-20 * total) || !(total > 0)) return null;
  const t = slope / Math.sqrt(rest / own);
  return { slope, t, df, p: tTwoSided(t, df) };
}

/**
 * Whether the residuals differ from level to level of a category that the model doesn't hold (or not by itself): the F test of its levels added to the model; otherwise as
 * `leftInResiduals`. `levels` names each row's level.
 */
export function levelsLeftInResiduals(fit: Fit, levels: readonly string[]): LevelsInResiduals | null {
  const known = [...new Set(levels)];
  // As many levels as rows would take a fit as large as the data: that is no category.
  if (known.length < 2 || known.length > 50) return null;
  const free = freeColumns(
    fit,
    known.slice(1).map((level) => levels.map((one) => (one === level ? 1 : 0))),
  );
  if (free === null || free.length === 0) return null;
  if (isMixedFit(fit)) {
    const test = fit.added(free.map(({ values }) => values))?.test;
    return test === null || test === undefined
      ? null
      : { f: test.f, df: test.df1, denominatorDf: test.df2, p: fTail(test.f, test.df1, test.df2) };
  }
  const { explained, total, rank } = explainedBy(fit, free);
  const denominatorDf = fit.residualDf - rank;
  const rest = (total - explained) / denominatorDf;
  if (denominatorDf < 2 || !(rest > 1e-20 * total) || !(total > 0)) return null;
  const f = explained / rank / rest;
  return { f, df: rank, denominatorDf, p: fTail(f, rank, denominatorDf) };
}

interface FreeColumn {
  readonly values: Float64Array;
  /** What the model's own columns leave of it. */
  readonly left: Float64Array;
}

/** The columns of which the model leaves something, about their means; null where nothing can be looked for. */
function freeColumns(fit: Fit, columns: readonly ArrayLike<number>[]): readonly FreeColumn[] | null {
  const { residualDf, residualSd, rows } = fit;
  if (residualDf < 3 || residualSd === null || residualSd === 0) return null;
  if (rows.length > (isMixedFit(fit) ? mostMixedRows : mostRows)) return null;
  const own = columnsOf(fit).map((high) => ({ high }));
  const weights = weightsOf(fit);
  const found: FreeColumn[] = [];
  for (const column of columns) {
    const values = Float64Array.from(column);
    if (!values.every(Number.isFinite)) return null;
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const about = values.map((value) => value - mean);
    const { residuals } = leastSquares(own, about, { weights });
    const [size, free] = [about, residuals].map((one) =>
      one.reduce((sum, value, i) => sum + weights[i] * value ** 2, 0),
    );
    if (free > leastShare * size) found.push({ values: about, left: residuals });
  }
  return found;
}

function weightsOf(fit: Fit): Float64Array {
  return fit.weights === null ? new Float64Array(fit.rows.length).fill(1) : Float64Array.from(fit.weights);
}

/** What of the residual sum of squares these columns explain; `slope` and `free` (what is left of it) are the first column's. */
function explainedBy(fit: Exclude<Fit, MixedFit>, columns: readonly FreeColumn[]) {
  const residuals = Float64Array.from(fit.rows, ({ residual }) => residual);
  const weights = weightsOf(fit);
  const { sequential, rank, coefficients } = leastSquares(
    columns.map(({ left }) => ({ high: left })),
    residuals,
    { weights },
  );
  return {
    explained: sequential.reduce((sum, value) => sum + value, 0),
    total: residuals.reduce((sum, value, i) => sum + weights[i] * value ** 2, 0),
    slope: coefficients[0],
    free: columns[0].left.reduce((sum, value, i) => sum + weights[i] * value ** 2, 0),
    rank,
  };
}
