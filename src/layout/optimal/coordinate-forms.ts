import type { FactorColumns } from "./search-model.ts";

/** What a change of one coordinate of one run does, as a form in the changes t of the factor's functions. */
export interface CoordinateForms {
  /** h′Vu by function, where δ = Σ t·h is the change of the row. */
  readonly lines: Float64Array;
  /** h′Vh by pairs of functions. */
  readonly squares: Float64Array;
}

export function emptyForms(functions: number): CoordinateForms {
  return { lines: new Float64Array(functions), squares: new Float64Array(functions * functions) };
}

/** Computes the forms of a factor from its slopes, a symmetric matrix V and the vector Vu. */
export function fillForms(
  forms: CoordinateForms,
  columns: FactorColumns,
  count: number,
  slopes: Float64Array,
  matrix: Float64Array,
  solved: Float64Array,
  size: number,
): void {
  const { from } = columns;
  const at = columns.columns;
  for (let m = 0; m < count; m += 1) {
    let line = 0;
    for (let q = from[m]; q < from[m + 1]; q += 1) line += slopes[q] * solved[at[q]];
    forms.lines[m] = line;
    for (let l = 0; l <= m; l += 1) {
      let square = 0;
      for (let q = from[m]; q < from[m + 1]; q += 1) {
        const base = at[q] * size;
        let inner = 0;
        for (let r = from[l]; r < from[l + 1]; r += 1) inner += slopes[r] * matrix[base + at[r]];
        square += slopes[q] * inner;
      }
      forms.squares[m * count + l] = square;
      forms.squares[l * count + m] = square;
    }
  }
}

/** Σ t·line and Σ Σ t·t·square; one and two functions, which are nearly all there are, are written out. */
export function lineOf({ lines }: CoordinateForms, steps: Float64Array, count: number): number {
  if (count === 1) return steps[0] * lines[0];
  if (count === 2) return steps[0] * lines[0] + steps[1] * lines[1];
  let sum = 0;
  for (let m = 0; m < count; m += 1) sum += steps[m] * lines[m];
  return sum;
}

export function squareOf({ squares }: CoordinateForms, steps: Float64Array, count: number): number {
  if (count === 1) return steps[0] * steps[0] * squares[0];
  if (count === 2) {
    const [one, other] = [steps[0], steps[1]];
    return one * (one * squares[0] + 2 * other * squares[1]) + other * other * squares[3];
  }
  let sum = 0;
  for (let m = 0; m < count; m += 1) {
    let inner = 0;
    for (let l = 0; l < count; l += 1) inner += steps[l] * squares[m * count + l];
    sum += steps[m] * inner;
  }
  return sum;
}
