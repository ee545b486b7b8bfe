/**
 * What a set of columns can tell apart, by Gram–Schmidt run twice over (which keeps the orthogonal columns at right angles to
 * rounding). No normal equations are formed.
 */
export interface Information {
  readonly rows: number;
  /** Columns kept, in the order given: a column that earlier ones span is not kept. */
  readonly kept: readonly number[];
  /** Each column left out, as a sum over kept ones. */
  readonly dropped: readonly {
    readonly column: number;
    readonly on: readonly { readonly column: number; readonly coefficient: number }[];
  }[];
  /** Inverse of the triangle R of the kept columns (X = QR): row i, column j at i × rank + j. */
  readonly inverseTriangle: Float64Array;
  /** Natural logarithm of the determinant of X′X over the kept columns. */
  readonly logDeterminant: number;
  /** The orthogonal columns, each of length 1. */
  readonly orthogonal: readonly Float64Array[];
}

/** A column is spanned by earlier ones when less than this share of its length is left; a billion times rounding, far below any real setting. */
const SPANNED = 1e-7;
/** Coefficients of a dependence smaller than this are rounding. */
const NEGLIGIBLE = 1e-7;

export function informationOf(columns: readonly Float64Array[]): Information {
  const rows = columns[0]?.length ?? 0;
  const kept: number[] = [];
  const orthogonal: Float64Array[] = [];
  const triangle: Float64Array[] = [];
  const spanned: { column: number; along: Float64Array }[] = [];
  let logDeterminant = 0;
  columns.forEach((column, index) => {
    const rest = Float64Array.from(column);
    const along = new Float64Array(orthogonal.length);
    const length = norm(rest);
    for (let pass = 0; pass < 2; pass += 1) {
      orthogonal.forEach((unit, place) => {
        const share = inner(unit, rest);
        along[place] = (along[place] ?? 0) + share;
        for (let row = 0; row < rows; row += 1) rest[row] = (rest[row] ?? 0) - share * (unit[row] ?? 0);
      });
    }
    const left = norm(rest);
    if (!(left > SPANNED * length) || length === 0) {
      spanned.push({ column: index, along });
      return;
    }
    kept.push(index);
    orthogonal.push(rest.map((value) => value / left));
    triangle.push(Float64Array.from([...along, left]));
    logDeterminant += 2 * Math.log(left);
  });
  const inverseTriangle = inverted(triangle);
  const rank = kept.length;
  return {
    rows,
    kept,
    inverseTriangle,
    logDeterminant,
    orthogonal,
    dropped: spanned.map(({ column, along }) => ({
      column,
      on: kept.flatMap((keptColumn, place) => {
        let coefficient = 0;
        for (let other = place; other < along.length; other += 1) {
          coefficient += (inverseTriangle[place * rank + other] ?? 0) * (along[other] ?? 0);
        }
        return Math.abs(coefficient) > NEGLIGIBLE ? [{ column: keptColumn, coefficient }] : [];
      }),
    })),
  };
}

/** Variance of a weighted sum of the kept coefficients, for σ = 1; `weights` has one entry a kept column. */
export function unitVariance(information: Information, weights: Float64Array): number {
  const rank = information.kept.length;
  let sum = 0;
  for (let column = 0; column < rank; column += 1) {
    let entry = 0;
    for (let row = 0; row <= column; row += 1) {
      entry += (weights[row] ?? 0) * (information.inverseTriangle[row * rank + column] ?? 0);
    }
    sum += entry * entry;
  }
  return sum;
}

/** Upper triangle given by columns; back-substitution, column by column. */
function inverted(triangle: readonly Float64Array[]): Float64Array {
  const rank = triangle.length;
  const inverse = new Float64Array(rank * rank);
  for (let column = 0; column < rank; column += 1) {
    const diagonal = triangle[column]?.[column] ?? 1;
    inverse[column * rank + column] = 1 / diagonal;
    for (let row = 0; row < column; row += 1) {
      let sum = 0;
      for (let between = row; between < column; between += 1) {
        sum += (inverse[row * rank + between] ?? 0) * (triangle[column]?.[between] ?? 0);
      }
      inverse[row * rank + column] = -sum / diagonal;
    }
  }
  return inverse;
}

function inner(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < one.length; row += 1) sum += (one[row] ?? 0) * (other[row] ?? 0);
  return sum;
}

function norm(column: Float64Array): number {
  return Math.sqrt(inner(column, column));
}
