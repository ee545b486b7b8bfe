import type { DesignColumn } from "../design-column.ts";
import { applyOrthogonal, factorInOrder, solveTransposed, solveTriangular } from "../householder.ts";
import { norm } from "../vector.ts";

/** The kept columns as directions at right angles, and the ways between coefficients of either. */
export interface Basis {
  readonly directions: readonly Float64Array[];
  /** Multiples of the directions that say the same as these multiples of the coefficients (a contrast). */
  readonly contrast: (multiples: Float64Array) => Float64Array;
  /** The way back: multiples of the coefficients that say the same as these multiples of the directions. */
  readonly multiples: (contrast: Float64Array) => Float64Array;
  /** Coefficients of the columns from those of the directions. */
  readonly coefficients: (ofDirections: Float64Array) => Float64Array;
  /** 2·log|det R|: by how much log|XᵀV⁻¹X| exceeds log|QᵀV⁻¹Q|. */
  readonly logVolume: number;
}

/** Columns that are known to be independent. The restricted likelihood knows the columns by their span alone, so their scale and order fall out. */
export function basisOf(columns: readonly DesignColumn[], kept: readonly number[]): Basis {
  const rows = columns[0].high.length;
  const rank = kept.length;
  const lengths = kept.map((k) => norm(columns[k].high, 0, rows));
  const entries = new Float64Array(rows * rank);
  kept.forEach((k, place) => {
    const start = place * rows;
    for (let i = 0; i < rows; i++) entries[start + i] = columns[k].high[i] / lengths[place];
  });
  const factor = factorInOrder({ rows, columns: rank, entries }, 0);
  const directions = kept.map((_, place) => {
    const direction = new Float64Array(rows);
    direction[place] = 1;
    applyOrthogonal(factor, direction);
    return direction;
  });
  let logVolume = 0;
  lengths.forEach((length, place) => (logVolume += 2 * Math.log(length * Math.abs(factor.diagonal[place]))));
  return {
    directions,
    logVolume,
    contrast(multiples) {
      const vector = multiples.map((value, place) => value / lengths[place]);
      solveTransposed(factor, vector);
      return vector;
    },
    multiples(contrast) {
      return Float64Array.from(lengths, (length, j) => {
        let total = factor.diagonal[j] * contrast[j];
        for (let i = 0; i < j; i++) total += factor.slots[j * rows + i] * contrast[i];
        return length * total;
      });
    },
    coefficients(ofDirections) {
      const vector = Float64Array.from(ofDirections);
      solveTriangular(factor, vector);
      return vector.map((value, place) => value / lengths[place]);
    },
  };
}
