import type { Factor } from "../../trial/index.ts";
import type { ColumnParts } from "../coded-columns.ts";
import type { Information } from "./information.ts";
import type { ModelColumns } from "./model-columns.ts";
import { regionColumns } from "./region-points.ts";

/**
 * How much a layout tells, as a share of an ideal one with as many runs in which every coded column has mean square 1 and
 * all are at right angles (X′X = n·I): 1 for a balanced two-level layout. A model with squares can't reach 1.
 * D: the ellipsoid of all coefficients. A: their average variance. I: the variance of the predicted mean, averaged over the
 * whole region (quantities −1..+1, levels of categories in equal shares). G: the variance of the predicted mean where it is
 * worst, at the corners (and middles, where the model has squares); the ideal is coefficients/runs. Where set-ups scatter, the
 * ideal is free of that scatter. All 0 where terms can't be told apart.
 */
export interface Efficiency {
  readonly D: number;
  readonly I: number;
  readonly A: number;
  readonly G: number;
}

/** The stated reference of every efficiency, for pages that show them. */
export const EFFICIENCY_REFERENCE =
  "against an ideal layout of as many runs whose coded columns are balanced and at right angles (1 for a full two-level factorial)";

/** The same where a factor is hard to change. */
export const SPLIT_REFERENCE = `${EFFICIENCY_REFERENCE} and whose set-ups add no scatter of their own`;

/** `information` is that of the model's columns, whitened where set-ups scatter. */
export function efficiencyOf(
  model: ModelColumns,
  information: Information,
  factors: readonly Factor[],
): Efficiency {
  const size = model.columns.length;
  if (information.kept.length < size || information.rows === 0) return { D: 0, I: 0, A: 0, G: 0 };
  const rows = information.rows;
  const own = model.parts.flatMap((part, index) => (part ? [index] : []));
  const moments = regionMoments(model.parts);
  let trace = 0;
  let averageVariance = 0;
  let idealVariance = 0;
  for (const one of own) {
    trace += covariance(information, one, one);
    idealVariance += moments(one, one) / rows;
    for (const other of own) {
      const moment = moments(one, other);
      if (moment !== 0) averageVariance += moment * covariance(information, one, other);
    }
  }
  return {
    D: Math.exp(information.logDeterminant / size) / rows,
    I: idealVariance / averageVariance,
    A: own.length / (rows * trace),
    G: own.length / (rows * worstVariance(model, information, factors)),
  };
}

/** The largest variance of the predicted mean over the region's corners and middles, for σ = 1. */
function worstVariance(model: ModelColumns, information: Information, factors: readonly Factor[]): number {
  const { own, columns, points } = regionColumns(model, factors);
  const rank = information.kept.length;
  const { inverseTriangle } = information;
  const row = new Float64Array(rank);
  let worst = 0;
  for (let point = 0; point < points; point += 1) {
    own.forEach((place, index) => (row[place] = columns[index]?.[point] ?? 0));
    let variance = 0;
    for (let column = 0; column < rank; column += 1) {
      let entry = 0;
      for (let index = 0; index <= column; index += 1)
        entry += (row[index] ?? 0) * (inverseTriangle[index * rank + column] ?? 0);
      variance += entry * entry;
    }
    if (variance > worst) worst = variance;
  }
  return worst;
}

/** Entry of (X′X)⁻¹ where all columns were kept. */
export function covariance(information: Information, one: number, other: number): number {
  const rank = information.kept.length;
  let sum = 0;
  for (let column = Math.max(one, other); column < rank; column += 1) {
    sum +=
      (information.inverseTriangle[one * rank + column] ?? 0) *
      (information.inverseTriangle[other * rank + column] ?? 0);
  }
  return sum;
}

/** Mean over the region of the product of two columns, in closed form. */
export function regionMoments(
  parts: readonly (ColumnParts | undefined)[],
): (one: number, other: number) => number {
  return (one, other) => {
    const [first, second] = [parts[one], parts[other]];
    if (!first || !second) return 0;
    let mean = 1;
    for (const name of new Set([...first.keys(), ...second.keys()])) {
      const [a, b] = [first.get(name), second.get(name)];
      if ((a && "basis" in a) || (b && "basis" in b)) {
        if (!a || !b || !("basis" in a) || !("basis" in b) || a.basis !== b.basis) return 0;
        continue;
      }
      const power = (a?.power ?? 0) + (b?.power ?? 0);
      if (power % 2 === 1) return 0;
      mean /= power + 1;
    }
    return mean;
  };
}
