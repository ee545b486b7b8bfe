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
  own.forEach((one, place) => {
    const variance = covariance(information, one, one);
    const square = moments(one, one);
    trace += variance;
    idealVariance += square / rows;
    averageVariance += square * variance;
    for (const other of own.slice(place + 1)) {
      const moment = moments(one, other);
      if (moment !== 0) averageVariance += 2 * moment * covariance(information, one, other);
    }
  });
  return {
    D: Math.exp(information.logDeterminant / size) / rows,
    I: idealVariance / averageVariance,
    A: own.length / (rows * trace),
    G: own.length / (rows * worstVariance(model, information, factors)),
  };
}

/** The largest variance of the predicted mean over the region's corners and middles, for σ = 1. */
function worstVariance(model: ModelColumns, information: Information, factors: readonly Factor[]): number {
  const { own, columns: values, points } = regionColumns(model, factors);
  const rank = information.kept.length;
  const columns = nonZeroEntries(information);
  const row = new Float64Array(rank);
  let worst = 0;
  for (let point = 0; point < points; point += 1) {
    own.forEach((place, index) => (row[place] = values[index]?.[point] ?? 0));
    let variance = 0;
    for (const { rows, entries } of columns) {
      let sum = 0;
      for (let index = 0; index < rows.length; index += 1)
        sum += (row[rows[index] ?? 0] ?? 0) * (entries[index] ?? 0);
      variance += sum * sum;
    }
    if (variance > worst) worst = variance;
  }
  return worst;
}

/** The columns of the inverse triangle without their zeros: most entries are zero where terms are at right angles. */
function nonZeroEntries({ kept, inverseTriangle }: Information) {
  const rank = kept.length;
  return kept.map((_, column) => {
    const rows = Array.from({ length: column + 1 }, (_unused, row) => row).filter(
      (row) => Math.abs(inverseTriangle[row * rank + column] ?? 0) > NEGLIGIBLE,
    );
    return {
      rows: Int32Array.from(rows),
      entries: Float64Array.from(rows, (row) => inverseTriangle[row * rank + column] ?? 0),
    };
  });
}

/** Entries of the inverse triangle of coded columns below this are rounding of zeros: with ten thousand of them a variance moves by less than 10⁻¹². */
const NEGLIGIBLE = 1e-17;

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
    for (const [name, a] of first) {
      const own = momentOf(a, second.get(name));
      if (own === 0) return 0;
      mean *= own;
    }
    for (const [name, b] of second) {
      if (first.has(name)) continue;
      const own = momentOf(b, undefined);
      if (own === 0) return 0;
      mean *= own;
    }
    return mean;
  };
}

type Part = ColumnParts extends ReadonlyMap<string, infer Kind> ? Kind : never;

/** Mean over one factor of the product of what two columns hold of it. */
function momentOf(one: Part, other: Part | undefined): number {
  if ("basis" in one) return other && "basis" in other && other.basis === one.basis ? 1 : 0;
  if (other && "basis" in other) return 0;
  const power = one.power + (other?.power ?? 0);
  return power % 2 === 1 ? 0 : 1 / (power + 1);
}
