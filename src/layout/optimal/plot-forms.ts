import type { FactorColumns } from "./search-model.ts";

/**
 * Products of the rows of one whole plot with a symmetric matrix V. With Y the plot's rows and Z_m what function m of a hard
 * factor puts into them per unit (both times the root of the inverse covariance), the changed rows are Y + Σ t_m Z_m.
 */
export interface PlotForms {
  /** V·Y′, one row of V·y a run. */
  readonly solved: Float64Array;
  /** Y V Y′. */
  readonly own: Float64Array;
  /** Z_m V Y′, function by function. */
  readonly mixed: Float64Array;
  /** Z_m V Z_l′, pair by pair. */
  readonly pairs: Float64Array;
}

export function emptyPlotForms(runs: number, functions: number, size: number): PlotForms {
  return {
    solved: new Float64Array(runs * size),
    own: new Float64Array(runs * runs),
    mixed: new Float64Array(functions * runs * runs),
    pairs: new Float64Array(functions * functions * runs * runs),
  };
}

/** The parts that hold for every hard factor: V·Y′ and YVY′. */
export function fillOwn(
  forms: PlotForms,
  matrix: Float64Array,
  rows: Float64Array,
  runs: number,
  size: number,
): void {
  for (let run = 0; run < runs; run += 1) {
    for (let i = 0; i < size; i += 1) {
      let sum = 0;
      for (let j = 0; j < size; j += 1) sum += matrix[i * size + j] * rows[run * size + j];
      forms.solved[run * size + i] = sum;
    }
  }
  for (let run = 0; run < runs; run += 1) {
    for (let other = 0; other < runs; other += 1) {
      let sum = 0;
      for (let i = 0; i < size; i += 1) sum += rows[run * size + i] * forms.solved[other * size + i];
      forms.own[run * runs + other] = sum;
    }
  }
}

/** The parts of one hard factor, whose slopes stand run by run. */
export function fillMixed(
  forms: PlotForms,
  columns: FactorColumns,
  count: number,
  slopes: Float64Array,
  matrix: Float64Array,
  runs: number,
  size: number,
): void {
  const { from } = columns;
  const at = columns.columns;
  const width = at.length;
  const square = runs * runs;
  for (let m = 0; m < count; m += 1) {
    for (let run = 0; run < runs; run += 1) {
      for (let other = 0; other < runs; other += 1) {
        let sum = 0;
        for (let q = from[m]; q < from[m + 1]; q += 1)
          sum += slopes[run * width + q] * forms.solved[other * size + at[q]];
        forms.mixed[m * square + run * runs + other] = sum;
      }
      for (let l = 0; l < count; l += 1) {
        for (let other = 0; other < runs; other += 1) {
          let sum = 0;
          for (let q = from[m]; q < from[m + 1]; q += 1) {
            const base = at[q] * size;
            let inner = 0;
            for (let r = from[l]; r < from[l + 1]; r += 1)
              inner += matrix[base + at[r]] * slopes[other * width + r];
            sum += slopes[run * width + q] * inner;
          }
          forms.pairs[(m * count + l) * square + run * runs + other] = sum;
        }
      }
    }
  }
}

/** (Y + Σ tZ, Y)·V·(Y + Σ tZ, Y)′, of size 2 × runs, into `out`. */
export function assemble(
  forms: PlotForms,
  steps: Float64Array,
  count: number,
  runs: number,
  out: Float64Array,
): void {
  const square = runs * runs;
  const width = 2 * runs;
  for (let run = 0; run < runs; run += 1) {
    for (let other = 0; other < runs; other += 1) {
      const here = run * runs + other;
      const there = other * runs + run;
      let fresh = forms.own[here];
      let half = forms.own[here];
      for (let m = 0; m < count; m += 1) {
        const by = steps[m];
        if (by === 0) continue;
        half += by * forms.mixed[m * square + here];
        fresh += by * (forms.mixed[m * square + here] + forms.mixed[m * square + there]);
        for (let l = 0; l < count; l += 1)
          fresh += by * steps[l] * forms.pairs[(m * count + l) * square + here];
      }
      out[run * width + other] = fresh;
      out[run * width + runs + other] = half;
      out[(runs + other) * width + run] = half;
      out[(runs + run) * width + runs + other] = forms.own[here];
    }
  }
}
