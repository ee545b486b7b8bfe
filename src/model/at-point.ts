import { listed } from "../units/index.ts";
import { modelError } from "./error.ts";
import { quantityValue } from "./design.ts";
import { columnsAt, middleValues } from "./design-columns.ts";
import type { Solved } from "./solved.ts";
import type { Setting } from "../trial/index.ts";

/** What a fit says of one combination of its columns. */
export interface Combined {
  readonly estimate: number;
  /** Variance over σ². */
  readonly cross: number;
  /** False where the value hangs on terms that the runs can't tell apart. */
  readonly estimable: boolean;
}

/** A column that was left out agrees with what carries it when they differ by less than this share of their size. */
const agreement = 1e-8;

/** Estimate and variance of x′β, with x given over all columns of the design. */
export function combined({ solution, droppedSize }: Solved, x: Float64Array): Combined {
  const { kept, rank, coefficients, inverseCross, dropped } = solution;
  let estimate = 0;
  let cross = 0;
  for (let i = 0; i < rank; i++) {
    const xi = x[kept[i]];
    if (xi === 0) continue;
    estimate += xi * coefficients[i];
    let row = 0;
    for (let j = 0; j < rank; j++) row += inverseCross[i * rank + j] * x[kept[j]];
    cross += xi * row;
  }
  const estimable = dropped.every(({ column, on }, k) => {
    let carried = 0;
    let size = Math.max(droppedSize[k], Math.abs(x[column]));
    for (const piece of on) {
      carried += piece.coefficient * x[piece.column];
      size += Math.abs(piece.coefficient * x[piece.column]);
    }
    return Math.abs(x[column] - carried) <= agreement * size;
  });
  return { estimate, cross: Math.max(0, cross), estimable };
}

/**
 * The elementary values at stated settings. Factors left out stand at their middle (quantities) or first level (categories), or, with
 * `rest: "average"`, at the middle with all levels evenly weighted. Blocks are always averaged.
 */
export function valuesAt(
  { design }: Solved,
  at: Readonly<Record<string, Setting>>,
  options: { readonly rest?: "first" | "average" } = {},
): Float64Array {
  const { rest = "first" } = options;
  const names = design.factors.map(({ name }) => name);
  const unknown = Object.keys(at).find((name) => !names.includes(name));
  if (unknown !== undefined)
    throw modelError(`a setting of the unknown factor "${unknown}"`, `one of ${listed(names, "or")}`);
  const values = middleValues(design);
  design.elementaries.forEach((elementary, k) => {
    if (elementary.factor < 0) return;
    const factor = design.factors[elementary.factor];
    const setting = Object.hasOwn(at, factor.name) ? at[factor.name] : undefined;
    if (elementary.level === undefined) {
      if (setting !== undefined) values[k] = quantityValue(elementary, setting, "setting");
    } else if (setting !== undefined) {
      // A level that is written as a number, such as tool 302, is a name all the same.
      const level = String(setting);
      if (!factor.levels.includes(level))
        throw modelError(`${factor.name} ${level}`, `one of ${listed(factor.levels, "or")}`);
      values[k] = level === elementary.level ? 1 : 0;
    } else if (rest === "first") values[k] = 0;
  });
  return values;
}

/** The columns at stated settings; see `valuesAt`. */
export function pointAt(
  solved: Solved,
  at: Readonly<Record<string, Setting>>,
  options: { readonly rest?: "first" | "average" } = {},
): Float64Array {
  return columnsAt(solved.design, valuesAt(solved, at, options));
}
