import { symmetricEigen } from "../symmetric-eigen.ts";
import { largest, scaleToOne } from "../vector.ts";
import { applied, form, multiplied, traceOf, type Inference, type Square } from "./inference.ts";
import { choleskyFactor, choleskyInverse, choleskySolve } from "./small-symmetric.ts";

export type SmallSample = "satterthwaite" | "kenward-roger";

/** Variance of a combination of coefficients (and of fresh random effects), with the degrees of freedom that it is known on. */
export interface Spread {
  readonly variance: number;
  readonly df: number;
}

export interface JointTest {
  readonly f: number;
  readonly df1: number;
  readonly df2: number;
}

/**
 * The covariance of the fixed coefficients with what it leaves out for small samples: Φ + 2Φ{Σ W_ij(Q_ij − P_iΦP_j)}Φ.
 * Source: Kenward and Roger 1997, Biometrics 53, 983–997, (4) and section 3; V is linear in the variances, so R_ij = 0.
 */
export function adjustedCovariance(inference: Inference, rank: number): Square {
  const { covariance, first, second, ofVariancesExpected: w } = inference;
  const size = first.length;
  const inner = new Float64Array(rank * rank);
  first.forEach((left, i) =>
    first.forEach((right, j) => {
      const weight = w[i * size + j];
      const third = multiplied(multiplied(left, covariance, rank), right, rank);
      // Only the sum of Q_ij and Q_ji is wanted, which is the second derivative.
      for (let e = 0; e < inner.length; e++) inner[e] += weight * (second[i][j][e] / 2 - third[e]);
    }),
  );
  const around = multiplied(multiplied(covariance, inner, rank), covariance, rank);
  return covariance.map((entry, e) => entry + 2 * around[e]);
}

/**
 * Variance and degrees of freedom of one combination: 2·variance² over the variance of the variance (Satterthwaite 1946; for mixed models Giesbrecht and
 * Burns 1985, Biometrics 41, 477–486). `fresh` are sources whose own variance is added: those of a run that is yet to be cut.
 */
export function spreadOf(
  inference: Inference,
  variances: Float64Array,
  l: Float64Array,
  options: { readonly fresh: readonly number[]; readonly adjusted: Square | null },
): Spread {
  const { covariance, first, ofVariances, ofVariancesExpected } = inference;
  const { fresh, adjusted } = options;
  if (fresh.length === 0) {
    // Degrees of freedom don't hang on how long the combination is; its fourth power must stay a number.
    const size = scaleToOne(largest(l));
    if (size !== 1) {
      const unit = spreadOf(
        inference,
        variances,
        l.map((entry) => entry * size),
        options,
      );
      return { variance: unit.variance / size / size, df: unit.df };
    }
  }
  const along = applied(covariance, l);
  const slope = Float64Array.from(first, (matrix) => -form(matrix, along, along));
  let plain = form(covariance, l, l);
  let told = adjusted === null ? plain : form(adjusted, l, l);
  for (const source of fresh) {
    slope[source] += 1;
    plain += variances[source];
    told += variances[source];
  }
  const ofVariance = form(adjusted === null ? ofVariances : ofVariancesExpected, slope, slope);
  return { variance: told, df: ofVariance > 0 ? (2 * plain * plain) / ofVariance : Infinity };
}

/**
 * F test that several combinations are zero together, with denominators by Satterthwaite's method.
 * Source: Fai and Cornelius 1996, J. Statistical Computation and Simulation 54, 363–378.
 */
export function satterthwaiteTest(
  inference: Inference,
  variances: Float64Array,
  l: readonly Float64Array[],
  estimates: Float64Array,
): JointTest | null {
  const q = l.length;
  const { values, vectors } = symmetricEigen(l.map((a) => l.map((b) => form(inference.covariance, a, b))));
  if (!(values[q - 1] > 1e-12 * values[0])) return null;
  let f = 0;
  const dfs = vectors.map((vector, m) => {
    const direction = new Float64Array(l[0].length);
    let estimate = 0;
    vector.forEach((weight, k) => {
      estimate += weight * estimates[k];
      for (let c = 0; c < direction.length; c++) direction[c] += weight * l[k][c];
    });
    f += (estimate * estimate) / values[m] / q;
    return spreadOf(inference, variances, direction, { fresh: [], adjusted: null }).df;
  });
  const least = Math.min(...dfs);
  if (Math.max(...dfs) - least <= 1e-8 * least || q === 1) return { f, df1: q, df2: dfs[0] };
  if (least <= 2) return { f, df1: q, df2: 2 };
  const mean = dfs.reduce((total, df) => total + (df === Infinity ? 1 : df / (df - 2)), 0);
  return { f, df1: q, df2: mean > q ? (2 * mean) / (mean - q) : Infinity };
}

/**
 * F test of several combinations, scaled and with the degrees of freedom that match its first two moments.
 * Source: Kenward and Roger 1997, section 3 and (8).
 */
export function kenwardRogerTest(
  inference: Inference,
  l: readonly Float64Array[],
  estimates: Float64Array,
  adjusted: Square,
): JointTest | null {
  const q = l.length;
  const { covariance, first, ofVariancesExpected: w } = inference;
  const size = first.length;
  const square = (matrix: Square): Float64Array =>
    Float64Array.from({ length: q * q }, (_, k) => form(matrix, l[Math.floor(k / q)], l[k % q]));
  const plainFactor = choleskyFactor(square(covariance), q);
  const factor = choleskyFactor(square(adjusted), q);
  if (plainFactor === null || factor === null) return null;
  // tr(ΘΦP_iΦ) with Θ = Lᵀ(LΦLᵀ)⁻¹L needs P_i only as seen by the combinations.
  const inverse = choleskyInverse(plainFactor, q);
  const seen = first.map((matrix) => {
    const along = l.map((vector) => applied(covariance, vector));
    const inner = Float64Array.from({ length: q * q }, (_, k) =>
      form(matrix, along[Math.floor(k / q)], along[k % q]),
    );
    return multiplied(inverse, inner, q);
  });
  let a1 = 0;
  let a2 = 0;
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) {
      const weight = w[i * size + j];
      a1 += weight * traceOf(seen[i], q) * traceOf(seen[j], q);
      a2 += weight * traceOf(multiplied(seen[i], seen[j], q), q);
    }
  const solved = choleskySolve(factor, q, estimates);
  let wald = 0;
  for (let k = 0; k < q; k++) wald += (solved[k] * estimates[k]) / q;
  if (!(a2 > 0)) return { f: wald, df1: q, df2: Infinity };
  const b = (a1 + 6 * a2) / (2 * q);
  const g = ((q + 1) * a1 - (q + 4) * a2) / ((q + 2) * a2);
  const divisor = 3 * q + 2 * (1 - g);
  const [c1, c2, c3] = [g / divisor, (q - g) / divisor, (q + 2 - g) / divisor];
  const mean = 1 / (1 - a2 / q);
  const spread = ((2 / q) * (1 + c1 * b)) / ((1 - c2 * b) ** 2 * (1 - c3 * b));
  const rho = spread / (2 * mean * mean);
  const df2 = 4 + (q + 2) / (q * rho - 1);
  const scale = df2 / (mean * (df2 - 2));
  return Number.isFinite(scale) && df2 > 0 && scale > 0 ? { f: scale * wald, df1: q, df2 } : null;
}
