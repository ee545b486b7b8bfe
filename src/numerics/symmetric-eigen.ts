/** Eigenvalues of a symmetric matrix, largest first, each with its unit vector. */
export interface SymmetricEigen {
  readonly values: readonly number[];
  readonly vectors: readonly (readonly number[])[];
}

/**
 * Eigenvalues and vectors of a small symmetric matrix by cyclic Jacobi rotations (Golub and Van Loan, *Matrix Computations*, 8.5), to
 * rounding. Each vector's largest entry is positive. Example: [[2, 1], [1, 2]] has 3 and 1.
 */
export function symmetricEigen(matrix: readonly (readonly number[])[]): SymmetricEigen {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const vectors: number[][] = a.map((_, i) => a.map((__, j) => (i === j ? 1 : 0)));
  // Convergence is quadratic: sizes met here are done in under ten sweeps; the bound only ends what rounding might keep going.
  for (let sweep = 0; sweep < 60 && offDiagonal(a) > 0; sweep++) {
    for (let p = 0; p < n - 1; p++) for (let q = p + 1; q < n; q++) rotate(a, vectors, p, q);
  }
  const order = a.map((row, i) => ({ value: row[i], i })).sort((x, y) => y.value - x.value);
  return {
    values: order.map(({ value }) => value),
    vectors: order.map(({ i }) => {
      const vector = vectors.map((row) => row[i]);
      const largest = vector.reduce((most, entry) => (Math.abs(entry) > Math.abs(most) ? entry : most), 0);
      return vector.map((entry) => (largest < 0 ? -entry : entry));
    }),
  };
}

function offDiagonal(a: readonly (readonly number[])[]): number {
  let sum = 0;
  a.forEach((row, i) => row.forEach((entry, j) => (sum += i === j ? 0 : Math.abs(entry))));
  return sum;
}

function rotate(a: number[][], vectors: number[][], p: number, q: number): void {
  const entry = a[p][q];
  if (Math.abs(entry) <= Number.EPSILON * 1e-3 * (Math.abs(a[p][p]) + Math.abs(a[q][q]))) {
    a[p][q] = a[q][p] = 0;
    return;
  }
  const theta = (a[q][q] - a[p][p]) / (2 * entry);
  const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  for (let k = 0; k < a.length; k++) {
    const kp = a[k][p];
    const kq = a[k][q];
    a[k][p] = c * kp - s * kq;
    a[k][q] = s * kp + c * kq;
  }
  for (let k = 0; k < a.length; k++) {
    const pk = a[p][k];
    const qk = a[q][k];
    a[p][k] = c * pk - s * qk;
    a[q][k] = s * pk + c * qk;
  }
  a[p][q] = a[q][p] = 0;
  for (const row of vectors) {
    const [vp, vq] = [row[p], row[q]];
    row[p] = c * vp - s * vq;
    row[q] = s * vp + c * vq;
  }
}
