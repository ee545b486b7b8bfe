import { fillFunctions } from "./axis.ts";
import { fillRow, type SearchModel } from "./search-model.ts";
import { cholesky, inverseFromCholesky, multiplyMatrices } from "./symmetric-inverse.ts";
import type { PlotPlan } from "./whole-plots.ts";

export type Criterion = "D" | "I" | "A";

/** What a design is made of beside its settings. */
export interface DesignPlan {
  readonly runs: number;
  /** The first so many runs are kept as they are. */
  readonly fixed: number;
  /** Block of each run, from 0. */
  readonly blockOf: Int32Array;
  /** Missing where every run is set up afresh. */
  readonly plots?: PlotPlan | undefined;
  readonly criterion: Criterion;
}

/** The settings of a design: a coordinate for every factor of every run, and which candidate it is (−1: none). */
export interface DesignPoints {
  readonly coordinates: Float64Array;
  readonly places: Int32Array;
}

/** A design while it is searched: its rows, and its inverse information kept by rank updates. */
export interface DesignState {
  readonly model: SearchModel;
  readonly plan: DesignPlan;
  readonly points: DesignPoints;
  /** Function values of every run, `slotCount` a run. */
  readonly values: Float64Array;
  /** Rows of the design matrix. */
  readonly rows: Float64Array;
  /** Sum of the rows of each whole plot. */
  readonly plotSums: Float64Array;
  /** M⁻¹ with M = X′V⁻¹X + prior, row-major; V is the covariance of the runs beside the variance between runs. */
  readonly inverse: Float64Array;
  /** M⁻¹BM⁻¹ with B the moments of the criterion: what I and A need; empty for D. */
  readonly weighted: Float64Array;
  /** B; undefined for D. */
  readonly moments: Float64Array | undefined;
  logDeterminant: number;
  /** Trace of BM⁻¹. */
  trace: number;
  readonly scratch: readonly [Float64Array, Float64Array];
}

/** B of the criterion: the region's moments for I; for A ones for the mean and the terms, blocks left out. */
export function criterionMoments(model: SearchModel, criterion: Criterion): Float64Array | undefined {
  if (criterion === "D") return undefined;
  if (criterion === "I") return model.moments;
  const size = model.columnCount;
  const diagonal = new Float64Array(size * size);
  for (let column = 0; column < size; column += 1) {
    if (column === 0 || column >= model.firstTerm) diagonal[column * size + column] = 1;
  }
  return diagonal;
}

export function emptyState(model: SearchModel, plan: DesignPlan): DesignState {
  const size = model.columnCount;
  const square = () => new Float64Array(size * size);
  const moments = criterionMoments(model, plan.criterion);
  return {
    model,
    plan,
    points: {
      coordinates: new Float64Array(plan.runs * model.factors.length),
      places: new Int32Array(plan.runs * model.factors.length),
    },
    values: new Float64Array(plan.runs * model.slotCount),
    rows: new Float64Array(plan.runs * size),
    plotSums: new Float64Array((plan.plots?.count ?? 0) * size),
    inverse: square(),
    weighted: moments ? square() : new Float64Array(0),
    moments,
    logDeterminant: 0,
    trace: 0,
    scratch: [square(), square()],
  };
}

/** Puts a design into the state and computes function values and rows. */
export function loadPoints(state: DesignState, points: DesignPoints): void {
  state.points.coordinates.set(points.coordinates);
  state.points.places.set(points.places);
  for (let run = 0; run < state.plan.runs; run += 1) {
    for (let factor = 0; factor < state.model.factors.length; factor += 1) setValues(state, run, factor);
    resetRow(state, run);
  }
}

/** Function values of one factor of one run, from its coordinate. */
export function setValues({ model, points, values }: DesignState, run: number, factor: number): void {
  const coordinate = points.coordinates[run * model.factors.length + factor];
  fillFunctions(model.axes[factor], coordinate, values, run * model.slotCount + model.firstSlot[factor]);
}

/** The row of one run, from its function values. */
export function resetRow({ model, plan, values, rows }: DesignState, run: number): void {
  fillRow(model, values, run * model.slotCount, plan.blockOf[run], rows, run * model.columnCount);
}

/**
 * Computes the information and its inverse afresh, which also clears the rounding that updates gather. `ridge` is added to the
 * whole diagonal, so that a start that can't tell all terms apart has a way out. Returns false where the information is
 * singular all the same.
 */
export function refresh(state: DesignState, ridge: number): boolean {
  const { model, rows, inverse, weighted, moments, scratch } = state;
  const size = model.columnCount;
  const [cross, spare] = scratch;
  fillInformation(state, cross);
  for (let i = 0; i < size; i += 1) cross[i * size + i] += model.prior[i] + ridge;
  const logDeterminant = cholesky(cross, size);
  if (logDeterminant === undefined || rows.length === 0) return false;
  state.logDeterminant = logDeterminant;
  inverseFromCholesky(cross, size, spare, inverse);
  if (!moments) return true;
  multiplyMatrices(inverse, moments, spare, size);
  multiplyMatrices(spare, inverse, weighted, size);
  let trace = 0;
  for (let i = 0; i < size; i += 1) trace += spare[i * size + i];
  state.trace = trace;
  return true;
}

/** Lower triangle of X′V⁻¹X: Σ ff′ over the runs less Σ c·ss′ over the whole plots, s the sum of a whole plot's rows. */
function fillInformation({ model, plan, rows, plotSums }: DesignState, cross: Float64Array): void {
  const size = model.columnCount;
  const { runs, plots } = plan;
  cross.fill(0);
  plotSums.fill(0);
  for (let run = 0; run < runs; run += 1) {
    addOuter(cross, rows, run * size, 1, size);
    if (!plots) continue;
    const at = plots.of[run] * size;
    for (let i = 0; i < size; i += 1) plotSums[at + i] += rows[run * size + i];
  }
  if (!plots) return;
  for (let plot = 0; plot < plots.count; plot += 1) {
    addOuter(cross, plotSums, plot * size, -plots.shrink[plot], size);
  }
}

function addOuter(cross: Float64Array, vectors: Float64Array, at: number, by: number, size: number): void {
  for (let i = 0; i < size; i += 1) {
    const value = by * vectors[at + i];
    if (value === 0) continue;
    for (let j = 0; j <= i; j += 1) cross[i * size + j] += value * vectors[at + j];
  }
}

/** Larger is better: log determinant for D, minus the trace for I and A. */
export function worthOf(state: DesignState): number {
  return state.moments ? -state.trace : state.logDeterminant;
}
