/** Plain matrices, row by row: a slow second road to check the fast one by. */
export type Matrix = readonly (readonly number[])[];

export function transposed(a: Matrix): number[][] {
  return a[0].map((_, j) => a.map((row) => row[j]));
}

export function multiplied(a: Matrix, b: Matrix): number[][] {
  return a.map((row) => b[0].map((_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)));
}

/** Gauss and Jordan, with the largest pivot of each column; the logarithm of the determinant falls out. */
function eliminated(a: Matrix): { readonly inverse: number[][]; readonly logDeterminant: number } {
  const n = a.length;
  const work = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDeterminant = 0;
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k; i < n; i++) if (Math.abs(work[i][k]) > Math.abs(work[best][k])) best = i;
    [work[k], work[best]] = [work[best], work[k]];
    const pivot = work[k][k];
    logDeterminant += Math.log(Math.abs(pivot));
    for (let j = 0; j < 2 * n; j++) work[k][j] /= pivot;
    for (let i = 0; i < n; i++) {
      const by = work[i][k];
      if (i === k || by === 0) continue;
      for (let j = 0; j < 2 * n; j++) work[i][j] -= by * work[k][j];
    }
  }
  return { inverse: work.map((row) => row.slice(n)), logDeterminant };
}

/** One column a level. */
export function indicator(of: readonly number[]): number[][] {
  const levels = [...new Set(of)];
  return of.map((level) => levels.map((one) => (one === level ? 1 : 0)));
}

/**
 * The restricted likelihood and what follows from it at given variances, by the formulas as they stand in books: V = Σ v·ZZᵀ + v₀·I, formed whole.
 * Source: Searle, Casella and McCulloch 1992, Variance Components, sections 6.6 and 7.3.
 */
export function denseReml(
  X: Matrix,
  y: readonly number[],
  sources: readonly Matrix[],
  variances: readonly number[],
): {
  readonly deviance: number;
  readonly estimates: readonly number[];
  readonly covariance: Matrix;
  readonly levelEffects: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly leverage: readonly number[];
} {
  const n = y.length;
  const residual = variances[sources.length];
  const V = y.map((_, i) =>
    y.map(
      (_, j) =>
        (i === j ? residual : 0) +
        sources.reduce(
          (sum, Z, k) => sum + variances[k] * Z[i].reduce((inner, value, l) => inner + value * Z[j][l], 0),
          0,
        ),
    ),
  );
  const { inverse: W, logDeterminant } = eliminated(V);
  const column = y.map((value) => [value]);
  const XtW = multiplied(transposed(X), W);
  const { inverse: covariance, logDeterminant: logFixed } = eliminated(multiplied(XtW, X));
  const estimates = multiplied(covariance, multiplied(XtW, column));
  const fixed = multiplied(X, estimates);
  const left = y.map((value, i) => [value - fixed[i][0]]);
  const solved = multiplied(W, left);
  const P = W.map((row, i) => {
    const taken = multiplied(multiplied([transposed(XtW)[i]], covariance), XtW)[0];
    return row.map((value, j) => value - taken[j]);
  });
  const quadratic = left.reduce((sum, [value], i) => sum + value * solved[i][0], 0);
  return {
    deviance: (n - X[0].length) * Math.log(2 * Math.PI) + logDeterminant + logFixed + quadratic,
    estimates: estimates.map(([value]) => value),
    covariance,
    levelEffects: sources.map((Z, k) =>
      multiplied(transposed(Z), solved).map(([value]) => variances[k] * value),
    ),
    residuals: solved.map(([value]) => residual * value),
    leverage: P.map((row, i) => 1 - residual * row[i]),
  };
}
