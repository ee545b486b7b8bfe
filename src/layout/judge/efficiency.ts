import type { ColumnParts } from "../coded-columns.ts";
import type { Information } from "./information.ts";
import type { ModelColumns } from "./model-columns.ts";

/**
 * How much a layout tells, as a share of an ideal one with as many runs in which every coded column has mean square 1 and
 * all are at right angles (X′X = n·I): 1 for a balanced two-level layout. A model with squares can't reach 1.
 * D: the ellipsoid of all coefficients. A: their average variance. I: the variance of the predicted mean, averaged over the
 * whole region (quantities −1..+1, levels of categories in equal shares). All 0 where terms can't be told apart.
 */
export interface Efficiency {
  readonly D: number;
  readonly I: number;
  readonly A: number;
}

/** The stated reference of every efficiency, for pages that show them. */
export const EFFICIENCY_REFERENCE =
  "against an ideal layout of as many runs whose coded columns are balanced and at right angles (1 for a full two-level factorial)";

export function efficiencyOf(model: ModelColumns, information: Information): Efficiency {
  const size = model.columns.length;
  if (information.kept.length < size || information.rows === 0) return { D: 0, I: 0, A: 0 };
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
  };
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
