import type { OrthogonalFactor } from "./householder.ts";
import { applyOrthogonal, applyTransposed, solveTransposed, solveTriangular } from "./householder.ts";
import type { PreciseMatrix, PreciseVector } from "./precise-products.ts";
import { addCorrection, preciseDot, preciseVector, subtractColumn } from "./precise-products.ts";
import { largest } from "./vector.ts";

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
  const rest = preciseVector(rows);
  const first = new Float64Array(rows);
  const dual = new Float64Array(rank);
  let change = 1;
  for (let step = 0; step < mostSteps && rank > 0; step++) {
    rest.high.set(response.high);
    rest.low.set(response.low);
    for (let k = 0; k < rank; k++)
      subtractColumn(rest, matrix, kept[k], coefficients.high[k], coefficients.low[k]);
    for (let i = 0; i < rows; i++)
      first[i] = rest.high[i] - residuals.high[i] + (rest.low[i] - residuals.low[i]);
    for (let k = 0; k < rank; k++) dual[k] = -preciseDot(matrix, kept[k], residuals);
    solveTransposed(factor, dual);
    applyTransposed(factor, first);
    const correction = first.slice(0, rank);
    for (let k = 0; k < rank; k++) correction[k] -= dual[k];
    first.set(dual);
    solveTriangular(factor, correction);
    applyOrthogonal(factor, first);
    const nextChange = relativeChange(coefficients.high, correction);
    // A correction that does not shrink is rounding noise (or a matrix beyond refinement): keep what stood before.
    if (step > 0 && !(nextChange < change / 2)) break;
    addCorrection(coefficients, correction);
    addCorrection(residuals, first);
    // What the next step would still change, if it gains as much as this one did.
    const expected = nextChange * (nextChange / change);
    change = nextChange;
    if (step > 0 && expected < 2 ** -60) break;
  }
  return { coefficients, residuals: remainder(matrix, factor, response, coefficients) };
}

/** Largest correction measured against its own coefficient, but not against ones that are themselves lost in rounding of the largest. */
function relativeChange(coefficients: Float64Array, correction: Float64Array): number {
  const floor = 2 ** -100 * largest(coefficients);
  let most = 0;
  for (let k = 0; k < correction.length; k++) {
    const size = Math.max(Math.abs(coefficients[k]), floor);
    most = Math.max(most, size === 0 ? (correction[k] === 0 ? 0 : 1) : Math.abs(correction[k]) / size);
  }
  return most;
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
  addCorrection(rest, new Float64Array(factor.rows));
  return rest;
}
