import { addExactly, multiplyExactly, twoProduct } from "./double-double.ts";
import type { DesignColumn } from "./design-column.ts";
import { numericsError, requireFinite } from "./error.ts";
import { applyOrthogonal, factorInOrder, solveTransposed } from "./householder.ts";
import { leastSquares, type LeastSquares } from "./least-squares.ts";

/** multiples · coefficients = value, the multiples in the order of the columns. */
export interface LinearConstraint {
  readonly multiples: Float64Array;
  readonly value: number;
}

export interface ConstrainedLeastSquares {
  /** One for each column, all of them. */
  readonly coefficients: Float64Array;
  /** Covariance over σ², columns × columns, row by row; zero in the directions that the constraints fix. */
  readonly inverseCross: Float64Array;
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  readonly residualSumOfSquares: number;
  /** Rows of weight above 0, less the columns, plus the constraints. */
  readonly df: number;
  /** The fit in the directions that the constraints leave free. */
  readonly free: LeastSquares;
}

/**
 * Least squares under linear equality constraints: coefficients that sum to zero, an exponent held at 2, two slopes held alike.
 *
 * Use it where contrasts or a known value of a coefficient are part of the model. The constraints are met to rounding: coefficients are a particular solution plus
 * a combination of directions in which no constraint moves (null-space method), whose columns are formed in double-double and fitted by `leastSquares`.
 * `weights` as there.
 *
 * Refused: constraints that contradict one another or say the same twice, as many constraints as columns or more, columns that the constraints leave dependent.
 * Accuracy: that of `leastSquares` in the free directions.
 * Source: Björck 1996, Numerical Methods for Least Squares Problems, 5.1.3; Lawson and Hanson 1974, chapter 20.
 *
 * @example
 * // y = a + b·x with b held at 2.
 * constrainedLeastSquares([{ high: Float64Array.of(1, 1, 1) }, { high: Float64Array.of(0, 1, 2) }], Float64Array.of(1, 2, 6),
 *   [{ multiples: Float64Array.of(0, 1), value: 2 }]).coefficients; // 1, 2
 */
export function constrainedLeastSquares(
  columns: readonly DesignColumn[],
  response: Float64Array,
  constraints: readonly LinearConstraint[],
  options: { readonly weights?: Float64Array } = {},
): ConstrainedLeastSquares {
  const p = columns.length;
  const m = constraints.length;
  const { particular, directions } = nullSpace(constraints, p);
  const rows = response.length;
  const moved = directions.map((direction) => combination(columns, direction, rows));
  // The response less what the particular solution says of it; what a double loses in that is of the size of its rounding.
  const known = combination(columns, particular, rows);
  const rest = response.map((value, i) => value - known.high[i] - (known.low?.[i] ?? 0));
  const free = leastSquares(moved, rest, options);
  if (free.rank < p - m) {
    throw numericsError(
      `columns that ${m} constraints leave dependent`,
      "columns that can be told apart under the constraints",
      "Leave out the columns that others span.",
    );
  }
  const coefficients = particular.slice();
  directions.forEach((direction, k) => {
    for (let j = 0; j < p; j++) coefficients[j] += free.coefficients[k] * direction[j];
  });
  const inverseCross = new Float64Array(p * p);
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++)
      for (let a = 0; a < p - m; a++)
        for (let b = 0; b < p - m; b++)
          inverseCross[i * p + j] += directions[a][i] * free.inverseCross[a * (p - m) + b] * directions[b][j];
  return {
    coefficients,
    inverseCross,
    fitted: response.map((value, i) => value - free.residuals[i]),
    residuals: free.residuals,
    residualSumOfSquares: free.residualSumOfSquares,
    df: free.df,
    free,
  };
}

/** A solution of the constraints, and directions at right angles in which none of them moves. */
function nullSpace(
  constraints: readonly LinearConstraint[],
  p: number,
): { readonly particular: Float64Array; readonly directions: readonly Float64Array[] } {
  const m = constraints.length;
  if (m >= p) throw numericsError(`${m} constraints on ${p} columns`, "fewer constraints than columns");
  const entries = new Float64Array(p * m);
  constraints.forEach(({ multiples, value }, k) => {
    if (multiples.length !== p) throw numericsError(`a constraint of ${multiples.length} multiples`, `${p}`);
    requireFinite("the value of a constraint", value);
    multiples.forEach((multiple) => requireFinite("a multiple of a constraint", multiple));
    entries.set(multiples, k * p);
  });
  const factor = factorInOrder({ rows: p, columns: m, entries }, 1e-12);
  if (factor.rank < m) {
    throw numericsError(
      `constraint ${factor.spanned[0].column + 1}, which the others already fix`,
      "constraints that say something each",
      "Leave it out.",
    );
  }
  // Cᵀ = QR, so the first entries of Qᵀx solve Rᵀz = values and the rest are free.
  const particular = new Float64Array(p);
  const values = Float64Array.from(constraints, ({ value }) => value);
  solveTransposed(factor, values);
  particular.set(values);
  applyOrthogonal(factor, particular);
  const directions = Array.from({ length: p - m }, (_, k) => {
    const direction = new Float64Array(p);
    direction[m + k] = 1;
    applyOrthogonal(factor, direction);
    return direction;
  });
  return { particular, directions };
}

/** Σ multiple · column, kept in double-double. */
function combination(columns: readonly DesignColumn[], multiples: Float64Array, rows: number): DesignColumn {
  const high = new Float64Array(rows);
  const low = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    let total = { high: 0, low: 0 };
    columns.forEach((column, j) => {
      const part =
        column.low === undefined
          ? twoProduct(column.high[i], multiples[j])
          : multiplyExactly({ high: column.high[i], low: column.low[i] }, { high: multiples[j], low: 0 });
      total = addExactly(total, part);
    });
    high[i] = total.high;
    low[i] = total.low;
  }
  return { high, low };
}
