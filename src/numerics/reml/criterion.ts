import { evaluate, type Evaluated } from "./evaluate.ts";
import { addLogarithm, reciprocal, subtractOuter } from "./jets.ts";
import type { ReducedSystem } from "./reduced-system.ts";

/** The restricted likelihood at given variances (each source in order, the residual last), in the measure of deviance: −2 log likelihood but for a constant. */
export interface Criterion {
  readonly variances: Float64Array;
  readonly deviance: number;
  readonly gradient: Float64Array;
  /** Second derivatives of the deviance, row by row. */
  readonly observed: Float64Array;
  /** Their expectation, tr(P·Vᵢ·P·Vⱼ). */
  readonly expected: Float64Array;
  readonly evaluated: Evaluated;
}

/**
 * −2 log restricted likelihood = log|V| + log|QᵀV⁻¹Q| + yᵀPy, its exact gradient, Hessian and expected Hessian by the variances.
 *
 * With V = v₀·H(θ), θ = v/v₀, it is (n − p)·log v₀ + L(θ) + S(θ)/v₀, and the derivatives by v follow from those by θ. Since every V_i is a sum of zzᵀ,
 * tr(P·Vᵢ·P·Vⱼ) is minus the second derivative of the two logarithms.
 * Source: Patterson and Thompson 1971, Biometrika 58, 545–554; Harville 1977, J. American Statistical Association 72, 320–338.
 */
export function criterionAt(system: ReducedSystem, variances: Float64Array): Criterion {
  const { shape, rows, rank } = system;
  const { parameters: k } = shape;
  const residual = variances[k];
  const ratios = Float64Array.from({ length: k }, (_, i) => variances[i] / residual);
  const evaluated = evaluate(system, ratios);
  const { logs, rest } = eliminated(system, evaluated);
  const m = rows - rank;
  const size = k + 1;
  const gradient = new Float64Array(size);
  const observed = new Float64Array(size * size);
  const expected = new Float64Array(size * size);
  const r = 1 / residual;
  const along = (jet: Float64Array) => {
    let once = 0;
    let twice = 0;
    const mixed = new Float64Array(k);
    for (let i = 0; i < k; i++) {
      once += ratios[i] * jet[1 + i];
      for (let j = 0; j < k; j++) mixed[i] += ratios[j] * jet[shape.second(i, j)];
      twice += ratios[i] * mixed[i];
    }
    return { once, twice, mixed };
  };
  const l = along(logs);
  const s = along(rest);
  const put = (i: number, j: number, ofLogs: number, ofRest: number): void => {
    observed[i * size + j] = observed[j * size + i] = ofLogs + ofRest;
    expected[i * size + j] = expected[j * size + i] = -ofLogs;
  };
  for (let i = 0; i < k; i++) {
    gradient[i] = (logs[1 + i] + rest[1 + i] * r) * r;
    for (let j = i; j < k; j++) {
      const at = shape.second(i, j);
      put(i, j, logs[at] * r * r, rest[at] * r * r * r);
    }
    put(i, k, -(logs[1 + i] + l.mixed[i]) * r * r, -(2 * rest[1 + i] + s.mixed[i]) * r * r * r);
  }
  gradient[k] = (m - l.once - (rest[0] + s.once) * r) * r;
  put(k, k, (-m + 2 * l.once + l.twice) * r * r, (2 * rest[0] + 4 * s.once + s.twice) * r * r * r);
  return {
    variances,
    deviance: m * Math.log(residual) + logs[0] + rest[0] * r,
    gradient,
    observed,
    expected,
    evaluated,
  };
}

/** The sum of squares that generalised least squares leaves, in units of the residual variance. */
export function restOf(system: ReducedSystem, evaluated: Evaluated): number {
  return eliminated(system, evaluated).rest[0];
}

/** Jets of log|H| + log|QᵀH⁻¹Q| and of yᵀP_Hy, by using up the columns of Q one by one. */
function eliminated(
  { shape, rank }: ReducedSystem,
  { logDeterminant, cross }: Evaluated,
): { readonly logs: Float64Array; readonly rest: Float64Array } {
  const d = rank + 1;
  const logs = logDeterminant.slice();
  const left = cross.map((matrix) => matrix.slice());
  const column = new Float64Array(shape.size * d);
  for (let j = 0; j < rank; j++) {
    for (let jet = 0; jet < shape.size; jet++)
      for (let b = j; b < d; b++) column[jet * d + b] = left[jet][j * d + b];
    const own = Float64Array.from({ length: shape.size }, (_, jet) => column[jet * d + j]);
    addLogarithm(shape, logs, own);
    subtractOuter(shape, left, d, reciprocal(shape, own), column, j + 1);
  }
  return { logs, rest: Float64Array.from(left, (matrix) => matrix[d * d - 1]) };
}
