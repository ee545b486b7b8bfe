import { applyTransposed, factorInOrder, solveTransposed, solveTriangular } from "./householder.ts";
import type { OrthogonalFactor } from "./householder.ts";
import { norm } from "./vector.ts";

/** A step within a trust region, with what the local linear problem promises of it. */
export interface TrustRegionStep {
  readonly step: Float64Array;
  /** ‖D·step‖. */
  readonly length: number;
  /** By how much the sum of squares should fall. */
  readonly promised: number;
  /** True where it is the full Gauss–Newton step. */
  readonly full: boolean;
}

/**
 * The step that brings R·step closest to `aimed` among those with ‖D·step‖ no longer than `radius` (within a tenth): R an upper triangle, column by column, D a
 * diagonal. The multiplier of the constraint is found by Newton's method on the secular equation, each time by a QR of R stacked on √λ·D.
 * Source: Moré 1978, The Levenberg–Marquardt algorithm: implementation and theory, Lecture Notes in Mathematics 630, 105–116.
 */
export function trustRegionStep(
  triangle: Float64Array,
  aimed: Float64Array,
  scale: Float64Array,
  radius: number,
): TrustRegionStep {
  const size = aimed.length;
  const solved = (lambda: number): { readonly step: Float64Array; readonly factor: OrthogonalFactor } => {
    const entries = new Float64Array(2 * size * size);
    const root = Math.sqrt(lambda);
    for (let k = 0; k < size; k++) {
      for (let j = 0; j <= k; j++) entries[k * 2 * size + j] = triangle[k * size + j];
      entries[k * 2 * size + size + k] = root * scale[k];
    }
    // The columns were found independent above, so none is dropped here.
    const factor = factorInOrder({ rows: 2 * size, columns: size, entries }, 0);
    const right = new Float64Array(2 * size);
    right.set(aimed);
    applyTransposed(factor, right);
    solveTriangular(factor, right);
    return { step: right.slice(0, size), factor };
  };
  const lengthOf = (step: Float64Array): number => {
    const scaled = step.map((value, k) => value * scale[k]);
    return norm(scaled, 0, size);
  };
  let { step, factor } = solved(0);
  let length = lengthOf(step);
  if (length <= 1.1 * radius) return { step, length, promised: promise(triangle, aimed, step), full: true };
  let lambda = 0;
  let low = 0;
  for (let iteration = 0; iteration < 30; iteration++) {
    const excess = length - radius;
    if (Math.abs(excess) <= 0.1 * radius) break;
    if (excess > 0) low = Math.max(low, lambda);
    // d(length)/dλ = −‖R_λ⁻ᵀ·D²·step‖² / length; the update is Newton's for 1/length, which is nearly linear in λ.
    const slope = new Float64Array(2 * size);
    for (let k = 0; k < size; k++) slope[k] = scale[k] * scale[k] * step[k];
    solveTransposed(factor, slope);
    const fall = norm(slope, 0, size) ** 2 / length;
    const next = lambda + ((excess / radius) * length) / fall;
    lambda = Number.isFinite(next) && next > low ? next : Math.max(2 * low, 1e-300);
    ({ step, factor } = solved(lambda));
    length = lengthOf(step);
  }
  return { step, length, promised: promise(triangle, aimed, step), full: false };
}

/** ‖aimed‖² − ‖aimed − R·step‖². */
function promise(triangle: Float64Array, aimed: Float64Array, step: Float64Array): number {
  const size = aimed.length;
  let total = 0;
  for (let j = 0; j < size; j++) {
    let moved = 0;
    for (let k = j; k < size; k++) moved += triangle[k * size + j] * step[k];
    total += moved * (2 * aimed[j] - moved);
  }
  return total;
}
