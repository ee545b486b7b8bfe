import { fTail, normalQuantile } from "../../numerics/index.ts";

/** P(the largest of several correlated |t| passes a value). */
export type LargestTail = (t: number, df: number) => number;

const points = 1 << 14;
const groups = 512;

/**
 * The tail of max |tᵢ| for comparisons of any correlation that share one estimated scale. The deviations are a direction and a length:
 * along a direction u the largest comparison is M(u) times the length, whose square over the variance has an F distribution, so the tail is the mean
 * over directions of P(F > t²/(rank·M²)). Directions are a lattice of 16,384, their M in 512 groups of equal size.
 * Source: Somerville 1997, Computational Statistics and Data Analysis 25, 217–233 (the spherical form); lattice after Genz and Bretz 2009,
 * Computation of Multivariate Normal and t Probabilities, 4.2.2.
 * `correlation` is m × m with ones on the diagonal. Accuracy: relative 1e-3 for tails of 1e-4 to 0.5, ranks to 8.
 */
export function sphericalTail(correlation: readonly (readonly number[])[]): LargestTail {
  const factor = pivotedCholesky(correlation);
  const rank = factor[0].length;
  const largest = rank === 1 ? [1] : grouped(largestAlong(factor, rank));
  return (t, df) => {
    if (!(t > 0)) return 1;
    let total = 0;
    for (const most of largest) total += fTail((t * t) / (rank * most * most), rank, df);
    return Math.min(1, total / largest.length);
  };
}

/** max |Lᵢ·u| for directions u that are spread evenly over the sphere. */
function largestAlong(factor: readonly Float64Array[], rank: number): Float64Array {
  const steps = Float64Array.from(primes(rank), (prime) => Math.sqrt(prime) % 1);
  const found = new Float64Array(points);
  const u = new Float64Array(rank);
  for (let k = 0; k < points; k++) {
    let length = 0;
    for (let j = 0; j < rank; j++) {
      const place = ((k + 1) * steps[j]) % 1;
      // The tent brings both ends of the unit interval together, which a lattice needs.
      const tent = Math.abs(2 * place - 1);
      u[j] = normalQuantile(Math.min(Math.max(tent, 1e-12), 1 - 1e-12));
      length += u[j] * u[j];
    }
    let most = 0;
    for (const row of factor) {
      let along = 0;
      for (let j = 0; j < rank; j++) along += row[j] * u[j];
      most = Math.max(most, Math.abs(along));
    }
    found[k] = most / Math.sqrt(length);
  }
  return found;
}

/** Means of 512 groups of neighbours: the tail is smooth in M, so a group's mean stands for its members. */
function grouped(values: Float64Array): readonly number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const size = sorted.length / groups;
  return Array.from({ length: groups }, (_, g) => {
    let total = 0;
    for (let k = 0; k < size; k++) total += sorted[g * size + k];
    return total / size;
  });
}

/** L with L·Lᵀ the correlation, as many columns as its rank. */
function pivotedCholesky(correlation: readonly (readonly number[])[]): readonly Float64Array[] {
  const size = correlation.length;
  const left = correlation.map((row) => Float64Array.from(row));
  const columns: Float64Array[] = [];
  for (;;) {
    let pivot = 0;
    for (let i = 1; i < size; i++) if (left[i][i] > left[pivot][pivot]) pivot = i;
    const most = left[pivot][pivot];
    if (!(most > 1e-9) || columns.length === size) break;
    const column = Float64Array.from(left, (row) => row[pivot] / Math.sqrt(most));
    for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) left[i][j] -= column[i] * column[j];
    columns.push(column);
  }
  return correlation.map((_, i) => Float64Array.from(columns, (column) => column[i]));
}

function primes(count: number): readonly number[] {
  const found: number[] = [];
  for (let k = 2; found.length < count; k++) if (found.every((prime) => k % prime !== 0)) found.push(k);
  return found;
}
