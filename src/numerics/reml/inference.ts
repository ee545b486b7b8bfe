import type { Criterion } from "./criterion.ts";
import type { ReducedSystem } from "./reduced-system.ts";
import { choleskyFactor, choleskyInverse } from "./small-symmetric.ts";

/** Square matrix, row by row. */
export type Square = Float64Array;

/** What intervals and tests of fixed terms rest on, in the directions of the basis and the units of the normalised response. */
export interface Inference {
  /** Covariance of the fixed coefficients at the variances found. */
  readonly covariance: Square;
  /** ∂(QᵀV⁻¹Q) by each variance. */
  readonly first: readonly Square[];
  /** Their second derivatives, [i][j]. */
  readonly second: readonly (readonly Square[])[];
  /** Covariance of the variances, by the observed information where that can be had (`observed`), else by the expected. */
  readonly ofVariances: Square;
  /** The same by the expected information. */
  readonly ofVariancesExpected: Square;
  readonly byObserved: boolean;
  /** Generalised least squares less plain least squares, in the directions. */
  readonly shift: Float64Array;
}

/**
 * Everything that small-sample methods need, from the derivatives of QᵀV⁻¹Q. By the expected information every variance counts, one that was found to be
 * zero too: then the degrees of freedom of a whole-plot term are those of its stratum still, and not those of the pooled scatter.
 */
export function inferenceAt(system: ReducedSystem, at: Criterion): Inference {
  const { shape, rank } = system;
  const k = shape.parameters;
  const { cross } = at.evaluated;
  const residual = at.variances[k];
  const ratios = Array.from({ length: k }, (_, i) => at.variances[i] / residual);
  const d = rank + 1;
  const ofJet = (jet: number): Square => {
    const out = new Float64Array(rank * rank);
    for (let a = 0; a < rank; a++)
      for (let b = a; b < rank; b++) out[a * rank + b] = out[b * rank + a] = cross[jet][a * d + b];
    return out;
  };
  const value = ofJet(0);
  const one = ratios.map((_, i) => ofJet(1 + i));
  const two = ratios.map((_, i) => ratios.map((__, j) => ofJet(shape.second(i, j))));
  const sum = (parts: readonly (readonly [number, Square])[], by: number): Square => {
    const out = new Float64Array(rank * rank);
    for (const [weight, matrix] of parts)
      for (let e = 0; e < out.length; e++) out[e] += by * weight * matrix[e];
    return out;
  };
  const r = 1 / residual;
  const along = (i: number): [number, Square][] => ratios.map((ratio, j) => [ratio, two[i][j]]);
  const ofResidual = sum(
    [[1, value], ...ratios.map((ratio, i): [number, Square] => [ratio, one[i]])],
    -r * r,
  );
  const first = [...one.map((matrix) => sum([[1, matrix]], r * r)), ofResidual];
  const second: Square[][] = two.map((row, i) => [
    ...row.map((matrix) => sum([[1, matrix]], r ** 3)),
    sum([[2, one[i]], ...along(i)], -(r ** 3)),
  ]);
  second.push([
    ...second.map((row) => row[k]),
    sum(
      [
        [2, value],
        ...ratios.map((ratio, i): [number, Square] => [4 * ratio, one[i]]),
        ...ratios.flatMap((ratio, i) => along(i).map(([w, m]): [number, Square] => [ratio * w, m])),
      ],
      r ** 3,
    ),
  ]);
  const factor = choleskyFactor(value, rank, 0)!;
  const covariance = choleskyInverse(factor, rank).map((entry) => entry * residual);
  const right = Float64Array.from({ length: rank }, (_, a) => cross[0][a * d + rank]);
  const shift = new Float64Array(rank);
  for (let a = 0; a < rank; a++)
    for (let b = 0; b < rank; b++) shift[a] += covariance[a * rank + b] * right[b] * r;
  const expected = inverseOf(at.expected, k + 1)!;
  const interior = at.variances.every((variance) => variance > 0);
  const observed = interior ? inverseOf(at.observed, k + 1) : null;
  return {
    covariance,
    first,
    second,
    ofVariances: observed ?? expected,
    ofVariancesExpected: expected,
    byObserved: observed !== null,
    shift,
  };
}

/** Twice the inverse of second derivatives of a deviance: a covariance. */
function inverseOf(matrix: Square, size: number): Square | null {
  const factor = choleskyFactor(matrix, size);
  return factor === null ? null : choleskyInverse(factor, size).map((entry) => 2 * entry);
}

/** xᵀ·matrix·y. */
export function form(matrix: Square, x: Float64Array, y: Float64Array): number {
  const size = x.length;
  let total = 0;
  for (let a = 0; a < size; a++) {
    if (x[a] === 0) continue;
    let row = 0;
    for (let b = 0; b < size; b++) row += matrix[a * size + b] * y[b];
    total += x[a] * row;
  }
  return total;
}

export function applied(matrix: Square, x: Float64Array): Float64Array {
  const size = x.length;
  const out = new Float64Array(size);
  for (let a = 0; a < size; a++) for (let b = 0; b < size; b++) out[a] += matrix[a * size + b] * x[b];
  return out;
}

export function multiplied(left: Square, right: Square, size: number): Square {
  const out = new Float64Array(size * size);
  for (let a = 0; a < size; a++)
    for (let c = 0; c < size; c++) {
      const factor = left[a * size + c];
      if (factor !== 0) for (let b = 0; b < size; b++) out[a * size + b] += factor * right[c * size + b];
    }
  return out;
}

export function traceOf(matrix: Square, size: number): number {
  let total = 0;
  for (let a = 0; a < size; a++) total += matrix[a * size + a];
  return total;
}
