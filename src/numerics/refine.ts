import type { OrthogonalFactor } from "./householder.ts";
import { applyOrthogonal, applyTransposed, solveTransposed, solveTriangular } from "./householder.ts";
import type { PreciseMatrix, PreciseVector } from "./precise-products.ts";
import { addCorrection, preciseDot, preciseVector, subtractColumn } from "./precise-products.ts";
import { addCombination, largest } from "./vector.ts";

/** Coefficients of the kept columns, and response less fit, both in double-double. */
export interface RefinedSolution {
  readonly coefficients: PreciseVector;
  readonly residuals: PreciseVector;
}

/** Each step gains −log₁₀(condition · 1e-16) digits, at least 3 under the rank threshold, so ten steps reach double-double or never will. */
const mostSteps = 12;

/**
 * Least squares by the factor, then iterative refinement of the augmented system  r + X·b = y,  Xᵀr = 0  with its own residuals formed in double-double
 * and the solution held in double-double. While condition · 1e-16 < 1 the coefficients end correct to the last digit of a double,
 * as if the whole had been computed in twice the precision.
 * Source: Björck 1967, BIT 7, 257–278; Demmel, Hida, Riedy and Li 2009, ACM Transactions on Mathematical Software 35, 28.
 */
export function refinedSolution(
  matrix: PreciseMatrix,
  factor: OrthogonalFactor,
  response: PreciseVector,
): RefinedSolution {
  const { rows, rank, kept } = factor;
  const coefficients = preciseVector(rank);
  const residuals = preciseVector(rows);
  // The first step starts from nothing: its right-hand sides are the response and 0.
  const primal = response.high.slice();
  const dual = new Float64Array(rank);
  let rest: PreciseVector = response;
  let change = 1;
  for (let step = 0; step < mostSteps && rank > 0; step++) {
    if (step > 0) {
      rest = remainder(matrix, factor, response, coefficients);
      for (let i = 0; i < rows; i++)
        primal[i] = rest.high[i] - residuals.high[i] + (rest.low[i] - residuals.low[i]);
      for (let k = 0; k < rank; k++) dual[k] = -preciseDot(matrix, kept[k], residuals);
    }
    const correction = solveAugmented(factor, primal, dual);
    const nextChange = step === 0 ? 1 : largest(correction) / (largest(coefficients.high) || 1);
    // A correction that does not shrink is rounding noise (or a matrix beyond refinement): keep what stood before.
    if (step > 0 && !(nextChange < change / 2)) break;
    addCorrection(coefficients, correction);
    addCorrection(residuals, primal);
    const gain = nextChange / change;
    change = nextChange;
    if (step > 0 && settled(coefficients.high, correction, gain)) {
      return { coefficients, residuals: lessPlain(rest, matrix, factor, correction) };
    }
  }
  return { coefficients, residuals: remainder(matrix, factor, response, coefficients) };
}

/**
 * Solves  r + X·b = primal,  Xᵀr = dual  by the factor in plain arithmetic; returns b, and leaves r in `primal`, which is this file's own scratch (as is `dual`).
 */
function solveAugmented(factor: OrthogonalFactor, primal: Float64Array, dual: Float64Array): Float64Array {
  solveTransposed(factor, dual);
  applyTransposed(factor, primal);
  const solution = primal.slice(0, factor.rank);
  for (let k = 0; k < factor.rank; k++) solution[k] -= dual[k];
  primal.set(dual);
  solveTriangular(factor, solution);
  applyOrthogonal(factor, primal);
  return solution;
}

/**
 * Whether the next correction, if it shrinks as this one did, would leave each coefficient as it is: small ones beside large ones too, but not ones that are nothing
 * but rounding noise of the largest.
 */
function settled(coefficients: Float64Array, correction: Float64Array, gain: number): boolean {
  const noise = 2 ** -45 * largest(coefficients);
  for (let k = 0; k < correction.length; k++) {
    const size = Math.max(Math.abs(coefficients[k]), noise);
    if (Math.abs(correction[k]) * gain > 2 ** -60 * size) return false;
  }
  return true;
}

/** response − X·coefficients, straight from its definition. */
function remainder(
  matrix: PreciseMatrix,
  factor: OrthogonalFactor,
  response: PreciseVector,
  coefficients: PreciseVector,
): PreciseVector {
  const rest: PreciseVector = { high: response.high.slice(), low: response.low.slice() };
  for (let k = 0; k < factor.rank; k++)
    subtractColumn(rest, matrix, factor.kept[k], coefficients.high[k], coefficients.low[k]);
  return rest;
}

/** The last, tiny correction is taken out of the remainder in plain arithmetic: its own rounding is a double's share of next to nothing. */
function lessPlain(
  rest: PreciseVector,
  matrix: PreciseMatrix,
  factor: OrthogonalFactor,
  correction: Float64Array,
): PreciseVector {
  const change = new Float64Array(factor.rows);
  const starts = factor.kept.map((column) => column * factor.rows);
  addCombination(change, 0, correction, matrix.entries, starts, factor.rank, factor.rows);
  for (let i = 0; i < change.length; i++) change[i] = -change[i];
  addCorrection(rest, change);
  return rest;
}
