import { addExactly, multiplyExactly } from "../numerics/index.ts";
import type { DoubleDouble, LeastSquares } from "../numerics/index.ts";
import type { BasisChange } from "./basis-change.ts";

/** Coefficients as they are told, for the kept columns in order, with their covariance over σ² (rank × rank, row by row). */
export interface ToldCoefficients {
  readonly estimates: Float64Array;
  readonly crossDiagonal: Float64Array;
  readonly cross: () => Float64Array;
  /** Each told coefficient as multiples of the fitted kept columns' coefficients. */
  readonly multiples: () => readonly Float64Array[];
}

type Row = readonly { readonly from: number; readonly coefficient: DoubleDouble }[];

/**
 * Turns the estimates of the fitted columns, and their covariance, into those of the told columns, every sum in double-double.
 * Where columns were left out, a told column stands for itself and for what it carries of them.
 */
export function toldCoefficients(solution: LeastSquares, change: BasisChange): ToldCoefficients {
  const { kept, coefficients, inverseCross, rank } = solution;
  const rows =
    solution.dropped.length === 0 ? directRows(kept, change) : rowsWithoutDropped(solution, change);
  const covariance = (a: Row, b: Row): number => {
    let total = zero;
    for (const left of a) {
      for (const right of b) {
        const entry = { high: inverseCross[left.from * rank + right.from], low: 0 };
        total = addExactly(
          total,
          multiplyExactly(entry, multiplyExactly(left.coefficient, right.coefficient)),
        );
      }
    }
    return total.high;
  };
  return {
    estimates: Float64Array.from(rows, (row) => {
      let total = zero;
      for (const { from, coefficient } of row) {
        total = addExactly(total, multiplyExactly({ high: coefficients[from], low: 0 }, coefficient));
      }
      return total.high;
    }),
    crossDiagonal: Float64Array.from(rows, (row) => covariance(row, row)),
    cross: () => Float64Array.from(rows.flatMap((a) => rows.map((b) => covariance(a, b)))),
    multiples: () =>
      rows.map((row) => {
        const all = new Float64Array(rank);
        for (const { from, coefficient } of row) all[from] += coefficient.high;
        return all;
      }),
  };
}

const zero: DoubleDouble = { high: 0, low: 0 };

function directRows(kept: readonly number[], change: BasisChange): readonly Row[] {
  return kept.map((column) =>
    change.contributions[column].map(({ column: from, coefficient }) => ({ from, coefficient })),
  );
}

/**
 * Told column j is Σ r_jk × kept fitted column k once the left-out columns are written in the kept ones; r is triangular because a
 * column leans on earlier ones only. Coefficients are told by its inverse, transposed.
 */
function rowsWithoutDropped(solution: LeastSquares, change: BasisChange): readonly Row[] {
  const { kept, rank } = solution;
  const position = new Map(kept.map((column, k) => [column, k]));
  const leaning = new Map(solution.dropped.map(({ column, on }) => [column, on]));
  const lower = new Float64Array(rank * rank);
  kept.forEach((column, j) => {
    for (const { column: inside, coefficient } of change.told[column]) {
      const place = position.get(inside);
      const pieces = place !== undefined ? [{ column: inside, coefficient: 1 }] : leaning.get(inside)!;
      for (const piece of pieces) {
        const k = j * rank + position.get(piece.column)!;
        lower[k] = lower[k] + coefficient.high * piece.coefficient;
      }
    }
  });
  // Column j of the inverse of the lower triangle, by forward substitution; transposed, it is row j.
  return kept.map((_, j) => {
    const column = new Float64Array(rank);
    for (let i = j; i < rank; i++) {
      let rest = i === j ? 1 : 0;
      for (let k = j; k < i; k++) rest -= lower[i * rank + k] * column[k];
      column[i] = rest / lower[i * rank + i];
    }
    return [...column]
      .map((value, from) => ({ from, coefficient: { high: value, low: 0 } }))
      .filter(({ coefficient }) => coefficient.high !== 0);
  });
}
