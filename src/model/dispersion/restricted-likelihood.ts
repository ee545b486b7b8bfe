/** Twice the restricted log-likelihood, up to a constant, of a log ratio of scatter; what does not hang on the response is made once a slope. */
export type RestrictedLikelihood = (slope: number) => (response: Float64Array) => number;

/**
 * The restricted likelihood of a linear model whose row i has a standard deviation in proportion to exp(slope·zᵢ), the model's coefficients and the common scatter at their best:
 * −(n − p)·ln RSS − ln|X′WX| + Σ ln w, with weights w = exp(−2·slope·z). Columns are orthogonalised by Gram and Schmidt, twice, so that near-dependent ones keep their digits.
 * `rows` hold the columns of the model, of full rank. Source: Harville 1977, Journal of the American Statistical Association 72, 320–338.
 */
export function restrictedLikelihood(
  rows: readonly Float64Array[],
  z: readonly number[],
): RestrictedLikelihood {
  const [n, p] = [rows.length, rows[0].length];
  // Beside a column of ones the others lose nothing by standing about their means, and keep their digits.
  const constant = rows.every((row) => row[0] === 1);
  const middle = Array.from({ length: p }, (_, k) =>
    constant && k > 0 ? rows.reduce((sum, row) => sum + row[k] / n, 0) : 0,
  );
  return (slope) => {
    const root = z.map((value) => Math.exp(-slope * value));
    const basis: Float64Array[] = [];
    let logDeterminant = 0;
    for (let k = 0; k < p; k++) {
      const column = Float64Array.from(rows, (row, i) => (row[k] - middle[k]) * root[i]);
      for (let pass = 0; pass < 2; pass++) for (const one of basis) remove(column, one);
      const length = Math.hypot(...column);
      logDeterminant += 2 * Math.log(length);
      for (let i = 0; i < n; i++) column[i] /= length;
      basis.push(column);
    }
    const logWeights = root.reduce((sum, value) => sum + 2 * Math.log(value), 0);
    return (response) => {
      const rest = Float64Array.from(response, (value, i) => value * root[i]);
      for (let pass = 0; pass < 2; pass++) for (const one of basis) remove(rest, one);
      let squares = 0;
      for (let i = 0; i < n; i++) squares += rest[i] * rest[i];
      return -(n - p) * Math.log(squares) - logDeterminant + logWeights;
    };
  };
}

function remove(column: Float64Array, unit: Float64Array): void {
  let along = 0;
  for (let i = 0; i < column.length; i++) along += column[i] * unit[i];
  for (let i = 0; i < column.length; i++) column[i] -= along * unit[i];
}
