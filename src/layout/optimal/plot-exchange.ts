import type { Allowed } from "./allowed.ts";
import { fillFunctions } from "./axis.ts";
import { chooseCoordinate, type Chosen } from "./best-coordinate.ts";
import { resetRow, setValues, type DesignState } from "./design-state.ts";
import { assemble, emptyPlotForms, fillMixed, fillOwn, type PlotForms } from "./plot-forms.ts";
import { LEAST_FINE_GAIN, LEAST_GAIN } from "./run-exchange.ts";
import { fillSlopes } from "./search-model.ts";
import { factorSmall, solveSmall } from "./small-solve.ts";
import type { PlotPlan } from "./whole-plots.ts";

const LEAST_RATIO = 1e-6;

/**
 * Exchange of the coordinates that a whole plot's runs share.
 *
 * With m runs in the plot, W½ = I − (d/m)·11′ the root of their inverse covariance (d = 1 − 1/√(1 + mη)) and Y = W½X, a change
 * to Y* changes M by Y*′Y* − Y′Y = UCU′ with U = (Y*′, Y′) and C = diag(I, −I). With S = C + U′VU, of size 2m, the determinant is
 * multiplied by (−1)^m·|S|, the trace of BM⁻¹ falls by tr(S⁻¹·U′WU), and V becomes V − VU·S⁻¹·U′V. The generalised least squares
 * criterion is that of Goos and Vandebroek (Technometrics 43, 2001) and Goos and Jones (2011, ch. 10).
 */
export interface PlotExchange {
  /** Improves the hard coordinates of one whole plot; true where something changed. */
  readonly improve: (plot: number, refine: boolean) => boolean;
}

export function plotExchange(
  state: DesignState,
  plots: PlotPlan,
  varianceRatio: number,
  allowed: Allowed | undefined,
): PlotExchange {
  const { model, points, values, rows, inverse, weighted, moments } = state;
  const size = model.columnCount;
  const width = model.factors.length;
  const hard = model.axes.filter((_, place) => plots.hard[place]);
  const most = Math.max(1, ...hard.map((axis) => axis.functionCount));
  const runsOf = (plot: number) => plots.from[plot + 1] - plots.from[plot];
  const longest = Math.max(1, ...Array.from({ length: plots.count }, (_, plot) => runsOf(plot)));
  const widest = Math.max(
    1,
    ...model.factorColumns.filter((_, place) => plots.hard[place]).map(({ columns }) => columns.length),
  );
  const forms = emptyPlotForms(longest, most, size);
  const weighedForms = moments ? emptyPlotForms(longest, most, size) : undefined;
  const rooted = new Float64Array(longest * size);
  const slopes = new Float64Array(longest * widest);
  const [steps, current] = [new Float64Array(most), new Float64Array(most)];
  const small = 4 * longest * longest;
  const [inner, outer] = [new Float64Array(small), new Float64Array(small)];
  const order = new Int32Array(2 * longest);
  const sides = () => new Float64Array(2 * longest * size);
  const [products, solution, weighedProducts, weighedSides] = [sides(), sides(), sides(), sides()];
  const chosen: Chosen = { coordinate: 0, place: 0 };
  let factor = 0;
  let count = 0;
  let runs = 0;
  let first = 0;

  const setSteps = (coordinate: number, place: number): void => {
    if (place >= 0) {
      const { table } = model.axes[factor];
      for (let m = 0; m < count; m += 1) steps[m] = table[place * count + m] - current[m];
      return;
    }
    fillFunctions(model.axes[factor], coordinate, steps, 0);
    for (let m = 0; m < count; m += 1) steps[m] -= current[m];
  };
  /** S factored in `inner`; returns the ratio of determinants. */
  const factorChange = (): number => {
    assemble(forms, steps, count, runs, inner);
    for (let i = 0; i < 2 * runs; i += 1) inner[i * 2 * runs + i] += i < runs ? 1 : -1;
    return (runs % 2 === 0 ? 1 : -1) * factorSmall(inner, order, 2 * runs);
  };
  const gainAt = (coordinate: number, place: number): number => {
    setSteps(coordinate, place);
    const ratio = factorChange();
    if (!weighedForms) return ratio - 1;
    if (!(ratio > LEAST_RATIO)) return Number.NEGATIVE_INFINITY;
    assemble(weighedForms, steps, count, runs, outer);
    solveSmall(inner, order, 2 * runs, outer, 2 * runs);
    let gain = 0;
    for (let i = 0; i < 2 * runs; i += 1) gain += outer[i * 2 * runs + i];
    return gain / state.trace;
  };
  const setAll = (coordinate: number, place: number): void => {
    for (let k = first; k < first + runs; k += 1) {
      points.coordinates[plots.runs[k] * width + factor] = coordinate;
      points.places[plots.runs[k] * width + factor] = place;
    }
  };
  const isAllowed = (coordinate: number, place: number): boolean => {
    if (!allowed) return true;
    const at = plots.runs[first] * width + factor;
    const [before, beforePlace] = [points.coordinates[at], points.places[at]];
    setAll(coordinate, place);
    let fits = true;
    for (let k = first; fits && k < first + runs; k += 1) fits = allowed(points, plots.runs[k]);
    setAll(before, beforePlace);
    return fits;
  };

  /** Takes the shared part of m rows down by d/m of their sum. */
  const root = (vectors: Float64Array, length: number): void => {
    const share = (1 - 1 / Math.sqrt(1 + runs * varianceRatio)) / runs;
    for (let i = 0; i < length; i += 1) {
      let sum = 0;
      for (let k = 0; k < runs; k += 1) sum += vectors[k * length + i];
      for (let k = 0; k < runs; k += 1) vectors[k * length + i] -= share * sum;
    }
  };
  const begin = (): void => {
    for (let k = 0; k < runs; k += 1) {
      const at = plots.runs[first + k] * size;
      for (let i = 0; i < size; i += 1) rooted[k * size + i] = rows[at + i];
    }
    root(rooted, size);
    fillOwn(forms, inverse, rooted, runs, size);
    if (weighedForms) fillOwn(weighedForms, weighted, rooted, runs, size);
  };

  const move = (): void => {
    setSteps(chosen.coordinate, -1);
    const ratio = factorChange();
    state.logDeterminant += Math.log(Math.max(ratio, Number.MIN_VALUE));
    fillSides(forms, inverse, products);
    solution.set(products);
    solveSmall(inner, order, 2 * runs, solution, size);
    if (weighedForms) updateWeighted(weighedForms);
    for (let k = 0; k < 2 * runs; k += 1) {
      for (let i = 0; i < size; i += 1) {
        const by = products[k * size + i];
        for (let j = 0; j < size; j += 1) inverse[i * size + j] -= by * solution[k * size + j];
      }
    }
    setAll(chosen.coordinate, chosen.place);
    for (let k = first; k < first + runs; k += 1) {
      setValues(state, plots.runs[k], factor);
      resetRow(state, plots.runs[k]);
    }
    resetSum(state, plots, first, runs);
    begin();
  };
  /** U′ × a matrix: rows of the changed runs, then of the runs as they were. */
  const fillSides = ({ solved }: PlotForms, matrix: Float64Array, out: Float64Array): void => {
    const { columns, from } = model.factorColumns[factor];
    for (let k = 0; k < runs; k += 1) {
      for (let i = 0; i < size; i += 1) {
        out[k * size + i] = solved[k * size + i];
        out[(runs + k) * size + i] = solved[k * size + i];
      }
      for (let m = 0; m < count; m += 1) {
        for (let q = from[m]; q < from[m + 1]; q += 1) {
          const by = steps[m] * slopes[k * columns.length + q];
          if (by === 0) continue;
          for (let i = 0; i < size; i += 1) out[k * size + i] += by * matrix[columns[q] * size + i];
        }
      }
    }
  };
  /** W + R′(TR − Q′) − QR with R = S⁻¹U′V, Q = WU and T = U′WU. */
  const updateWeighted = (weighed: PlotForms): void => {
    fillSides(weighed, weighted, weighedProducts);
    assemble(weighed, steps, count, runs, outer);
    const both = 2 * runs;
    for (let k = 0; k < both; k += 1) {
      for (let i = 0; i < size; i += 1) {
        let sum = -weighedProducts[k * size + i];
        for (let l = 0; l < both; l += 1) sum += outer[k * both + l] * solution[l * size + i];
        weighedSides[k * size + i] = sum;
      }
    }
    for (let k = 0; k < both; k += 1) {
      for (let i = 0; i < size; i += 1) {
        const [one, other] = [solution[k * size + i], weighedProducts[k * size + i]];
        for (let j = 0; j < size; j += 1)
          weighted[i * size + j] += one * weighedSides[k * size + j] - other * solution[k * size + j];
      }
    }
    solveSmall(inner, order, both, outer, both);
    for (let k = 0; k < both; k += 1) state.trace -= outer[k * both + k];
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
  return {
    improve: (plot, refine) => {
      first = plots.from[plot];
      runs = runsOf(plot);
      if (runs === 0) return false;
      let changed = false;
      begin();
      for (factor = 0; factor < width; factor += 1) {
        count = model.axes[factor].functionCount;
        if (count === 0 || !plots.hard[factor]) continue;
        const lead = plots.runs[first];
        for (let m = 0; m < count; m += 1)
          current[m] = values[lead * model.slotCount + model.firstSlot[factor] + m];
        const columns = model.factorColumns[factor];
        for (let k = 0; k < runs; k += 1) {
          const at = plots.runs[first + k] * model.slotCount;
          fillSlopes(columns, values, at, slopes, k * columns.columns.length);
        }
        root(slopes, columns.columns.length);
        fillMixed(forms, columns, count, slopes, inverse, runs, size);
        if (weighedForms) fillMixed(weighedForms, columns, count, slopes, weighted, runs, size);
        chosen.coordinate = points.coordinates[lead * width + factor];
        chosen.place = points.places[lead * width + factor];
        if (!chooseCoordinate(questions[refine ? 1 : 0][factor], chosen)) continue;
        move();
        changed = true;
      }
      return changed;
    },
  };
}

/** The sum of the rows of a whole plot, from its rows. */
function resetSum(
  { model, rows, plotSums }: DesignState,
  plots: PlotPlan,
  first: number,
  runs: number,
): void {
  const size = model.columnCount;
  const at = plots.of[plots.runs[first]] * size;
  plotSums.fill(0, at, at + size);
  for (let k = first; k < first + runs; k += 1) {
    for (let i = 0; i < size; i += 1) plotSums[at + i] += rows[plots.runs[k] * size + i];
  }
}
