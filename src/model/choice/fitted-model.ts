import { dotProduct } from "../../numerics/index.ts";
import type { TreeColumn } from "./model-tree.ts";

/** One model on given settings, ready to meet any response. */
export interface FittedModel {
  readonly df: number;
  /** Sum of squares that it leaves of a response. */
  readonly residual: (response: Float64Array) => number;
  readonly fitted: (response: Float64Array) => Float64Array;
  /** For each target the weight of each row in it. */
  readonly weights: readonly Float64Array[];
}

const dependent = 1e-9;

/**
 * A model as it is fitted: the base, the columns picked, and the factors of their products and squares. A target tells the value of every base column, then of every
 * column; those that aren't in the model, or that its others explain, count for nothing.
 */
export function fittedModel(
  columns: readonly TreeColumn[],
  picked: readonly number[],
  base: readonly Float64Array[],
  targets: readonly Float64Array[] = [],
): FittedModel {
  const places = [...new Set(picked.flatMap((place) => [...columns[place].parents, place]))];
  const all = [...base, ...places.map((place) => columns[place].column)];
  const entry = [...base.keys(), ...places.map((place) => base.length + place)];
  const units: Float64Array[] = [];
  /** Of each kept column what it holds of each unit column: the triangle of its factorisation. */
  const triangle: number[][] = [];
  const kept: number[] = [];
  all.forEach((column, k) => {
    const left = column.slice();
    const held = units.map(() => 0);
    for (let pass = 0; pass < 2; pass++)
      units.forEach((unit, u) => {
        const along = dotProduct(unit, left);
        held[u] += along;
        for (let row = 0; row < left.length; row++) left[row] -= along * unit[row];
      });
    const square = dotProduct(left, left);
    if (square <= dependent * dotProduct(column, column)) return;
    const length = Math.sqrt(square);
    units.push(left.map((value) => value / length));
    triangle.push([...held, length]);
    kept.push(k);
  });
  const rows = base[0].length;
  return {
    df: rows - units.length,
    residual(response) {
      const left = response.slice();
      for (const unit of units) {
        const along = dotProduct(unit, left);
        for (let row = 0; row < rows; row++) left[row] -= along * unit[row];
      }
      return dotProduct(left, left);
    },
    fitted(response) {
      const sum = new Float64Array(rows);
      for (const unit of units) {
        const along = dotProduct(unit, response);
        for (let row = 0; row < rows; row++) sum[row] += along * unit[row];
      }
      return sum;
    },
    weights: targets.map((target) => {
      // Coefficients are R⁻¹Qᵀy, so the target c has the weights Q·z with Rᵀz = c.
      const z: number[] = [];
      kept.forEach((k, at) => {
        const before = z.reduce((sum, value, u) => sum + triangle[at][u] * value, 0);
        z.push((target[entry[k]] - before) / triangle[at][at]);
      });
      return Float64Array.from({ length: rows }, (_, row) =>
        z.reduce((sum, value, u) => sum + value * units[u][row], 0),
      );
    }),
  };
}
