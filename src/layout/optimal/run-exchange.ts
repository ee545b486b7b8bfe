import { chooseCoordinate, type Chosen } from "./best-coordinate.ts";
import { fillFunctions } from "./axis.ts";
import { emptyForms, fillForms, lineOf, squareOf } from "./coordinate-forms.ts";
import { resetRow, setValues, type DesignState } from "./design-state.ts";
import type { Allowed } from "./allowed.ts";
import { fillSlopes } from "./search-model.ts";
import { dot, multiplyVector } from "./symmetric-inverse.ts";

/** A step must gain this much, relatively: smaller gains are rounding and would go on for ever. */
export const LEAST_GAIN = 1e-9;
/** Between the candidates, less than this is beyond the figures that settings have. */
export const LEAST_FINE_GAIN = 1e-7;
/** Below this ratio of determinants an update would lose too many figures; such a move gains nothing for any criterion. */
const LEAST_RATIO = 1e-6;

/**
 * Exchange of the coordinates of one run.
 *
 * Let f be the run's row, s the sum of the rows of its whole plot, c the whole plot's shrink (0 where every run is set up
 * afresh) and V = M⁻¹. Changing f to f + δ changes M by κδδ′ + uδ′ + δu′ with u = f − c·s and κ = 1 − c, so with a = δ′Vδ,
 * b = δ′Vu, e = u′Vu the determinant is multiplied by r = (1 + b)² + a(κ − e), the trace of BM⁻¹ falls by
 * ((κ − e)·δ′Wδ + 2(1 + b)·δ′Wu − a·u′Wu)/r with W = VBV, and V changes by
 * ((e − κ)·Vδδ′V − (1 + b)(Vδu′V + Vuδ′V) + a·Vuu′V)/r (Sherman, Morrison and Woodbury). For c = 0 these are the updates of
 * Meyer and Nachtsheim (Technometrics 37, 1995, 60–69); with whole plots they are those that Goos and Jones (Optimal Design
 * of Experiments, 2011, ch. 10) describe, in a form of two vectors. δ lives on the columns of one factor only.
 */
export interface RunExchange {
  /** Improves one run coordinate by coordinate, skipping hard factors; true where something changed. */
  readonly improve: (run: number, refine: boolean) => boolean;
}

export function runExchange(state: DesignState, allowed: Allowed | undefined): RunExchange {
  const { model, plan, points, values, rows, plotSums, inverse, weighted, moments } = state;
  const { plots } = plan;
  const size = model.columnCount;
  const width = model.factors.length;
  const vector = () => new Float64Array(size);
  const [u, solved, weighed] = [vector(), vector(), vector()];
  const [stepSolved, stepWeighed, left, right] = [vector(), vector(), vector(), vector()];
  const [firsts, seconds] = [vector(), vector()];
  const most = Math.max(1, ...model.axes.map((axis) => axis.functionCount));
  const slopes = new Float64Array(Math.max(1, ...model.factorColumns.map(({ columns }) => columns.length)));
  const [steps, current] = [new Float64Array(most), new Float64Array(most)];
  const forms = model.axes.map((axis) => emptyForms(axis.functionCount));
  const weighedForms = model.axes.map((axis) => emptyForms(axis.functionCount));
  const chosen: Chosen = { coordinate: 0, place: 0 };
  // What holds while one coordinate is asked about.
  let factor = 0;
  let count = 0;
  let at = 0;
  let kappa = 1;
  let own = 0;
  let ownWeighed = 0;

  const setSteps = (coordinate: number, place: number): void => {
    if (place >= 0) {
      const { table } = model.axes[factor];
      for (let m = 0; m < count; m += 1) steps[m] = table[place * count + m] - current[m];
      return;
    }
    fillFunctions(model.axes[factor], coordinate, steps, 0);
    for (let m = 0; m < count; m += 1) steps[m] -= current[m];
  };
  const gainAt = (coordinate: number, place: number): number => {
    setSteps(coordinate, place);
    const form = forms[factor];
    const a = squareOf(form, steps, count);
    const b = lineOf(form, steps, count);
    const ratio = (1 + b) * (1 + b) + a * (kappa - own);
    if (!moments) return ratio - 1;
    if (!(ratio > LEAST_RATIO)) return Number.NEGATIVE_INFINITY;
    const form2 = weighedForms[factor];
    const aWeighed = squareOf(form2, steps, count);
    const bWeighed = lineOf(form2, steps, count);
    return ((kappa - own) * aWeighed + 2 * (1 + b) * bWeighed - a * ownWeighed) / (ratio * state.trace);
  };
  const isAllowed = (coordinate: number, place: number): boolean => {
    if (!allowed) return true;
    const [before, beforePlace] = [points.coordinates[at], points.places[at]];
    points.coordinates[at] = coordinate;
    points.places[at] = place;
    const fits = allowed(points, Math.floor(at / width));
    points.coordinates[at] = before;
    points.places[at] = beforePlace;
    return fits;
  };
  const questions = [false, true].map((refine) =>
    model.axes.map((axis) => ({
      axis,
      gainAt,
      allowed: isAllowed,
      least: refine ? LEAST_FINE_GAIN : LEAST_GAIN,
      refine,
    })),
  );

  /** u, Vu and Wu of a run, from the state. */
  const begin = (run: number): void => {
    const c = plots ? plots.shrink[plots.of[run]] : 0;
    const sumAt = plots ? plots.of[run] * size : 0;
    for (let i = 0; i < size; i += 1) u[i] = rows[run * size + i] - (plots ? c * plotSums[sumAt + i] : 0);
    kappa = 1 - c;
    multiplyVector(inverse, u, 0, solved, 0, size);
    own = dot(u, solved, size);
    if (!moments) return;
    multiplyVector(weighted, u, 0, weighed, 0, size);
    ownWeighed = dot(u, weighed, size);
  };

  /** Moves the chosen coordinate: V, W, determinant, trace, row, sums, and u with its products, all by updates. */
  const move = (run: number): void => {
    setSteps(chosen.coordinate, -1);
    const form = forms[factor];
    const a = squareOf(form, steps, count);
    const b = lineOf(form, steps, count);
    const ratio = (1 + b) * (1 + b) + a * (kappa - own);
    const { columns, from } = model.factorColumns[factor];
    for (let m = 0; m < count; m += 1) for (let q = from[m]; q < from[m + 1]; q += 1) slopes[q] *= steps[m];
    // slopes now hold δ; its products with V and W from their columns.
    sparseProduct(inverse, columns, slopes, stepSolved, size);
    const [p, q, r] = [(own - kappa) / ratio, -(1 + b) / ratio, a / ratio];
    state.logDeterminant += Math.log(Math.max(ratio, Number.MIN_VALUE));
    for (let i = 0; i < size; i += 1) {
      left[i] = p * stepSolved[i] + q * solved[i];
      right[i] = q * stepSolved[i] + r * solved[i];
    }
    if (moments) {
      sparseProduct(weighted, columns, slopes, stepWeighed, size);
      const form2 = weighedForms[factor];
      const aWeighed = squareOf(form2, steps, count);
      const bWeighed = lineOf(form2, steps, count);
      state.trace += p * aWeighed + 2 * q * bWeighed + r * ownWeighed;
      for (let i = 0; i < size; i += 1) {
        const base = i * size;
        // W + (LT + Q)L′ + LQ′ with L = (left, right), Q = W(δ, u) and T = (δ, u)′W(δ, u).
        const first = left[i] * aWeighed + right[i] * bWeighed + stepWeighed[i];
        const second = left[i] * bWeighed + right[i] * ownWeighed + weighed[i];
        firsts[i] = first;
        seconds[i] = second;
        for (let j = 0; j < size; j += 1) {
          weighted[base + j] +=
            first * left[j] + second * right[j] + left[i] * stepWeighed[j] + right[i] * weighed[j];
        }
      }
    }
    for (let i = 0; i < size; i += 1) {
      const base = i * size;
      const [first, second] = [left[i], right[i]];
      for (let j = 0; j < size; j += 1) inverse[base + j] += first * stepSolved[j] + second * solved[j];
    }
    points.coordinates[at] = chosen.coordinate;
    points.places[at] = chosen.place;
    setValues(state, run, factor);
    resetRow(state, run);
    if (plots) {
      const sumAt = plots.of[run] * size;
      for (let k = 0; k < columns.length; k += 1) plotSums[sumAt + columns[k]] += slopes[k];
    }
    goOn(a, b);
  };
  /** u, Vu and Wu after a move: u has changed by κδ, V by L(Vδ, Vu)′ and W as above, so that only a few vectors are added. */
  const goOn = (a: number, b: number): void => {
    const { columns } = model.factorColumns[factor];
    for (let k = 0; k < columns.length; k += 1) u[columns[k]] += kappa * slopes[k];
    if (moments) {
      const [byLeft, byRight] = [dot(left, u, size), dot(right, u, size)];
      const [byStep, byOwn] = [dot(stepWeighed, u, size), dot(weighed, u, size)];
      for (let i = 0; i < size; i += 1) {
        weighed[i] +=
          kappa * stepWeighed[i] +
          firsts[i] * byLeft +
          seconds[i] * byRight +
          left[i] * byStep +
          right[i] * byOwn;
      }
      ownWeighed = dot(u, weighed, size);
    }
    const [byStep, byOwn] = [b + kappa * a, own + kappa * b];
    for (let i = 0; i < size; i += 1)
      solved[i] += kappa * stepSolved[i] + left[i] * byStep + right[i] * byOwn;
    own = dot(u, solved, size);
  };

  return {
    improve: (run, refine) => {
      let changed = false;
      begin(run);
      const asked = questions[refine ? 1 : 0];
      for (factor = 0; factor < width; factor += 1) {
        count = model.axes[factor].functionCount;
        if (count === 0 || plots?.hard[factor]) continue;
        at = run * width + factor;
        const valuesAt = run * model.slotCount;
        for (let m = 0; m < count; m += 1) current[m] = values[valuesAt + model.firstSlot[factor] + m];
        const columns = model.factorColumns[factor];
        fillSlopes(columns, values, valuesAt, slopes, 0);
        fillForms(forms[factor], columns, count, slopes, inverse, solved, size);
        if (moments) fillForms(weighedForms[factor], columns, count, slopes, weighted, weighed, size);
        chosen.coordinate = points.coordinates[at];
        chosen.place = points.places[at];
        if (!chooseCoordinate(asked[factor], chosen)) continue;
        move(run);
        changed = true;
      }
      return changed;
    },
  };
}

/** Matrix × a vector that lives on some columns; the matrix is symmetric, so its rows serve as columns. */
function sparseProduct(
  matrix: Float64Array,
  columns: Int32Array,
  vector: Float64Array,
  out: Float64Array,
  size: number,
): void {
  out.fill(0);
  for (let q = 0; q < columns.length; q += 1) {
    const value = vector[q];
    if (value === 0) continue;
    const base = columns[q] * size;
    for (let i = 0; i < size; i += 1) out[i] += value * matrix[base + i];
  }
}
