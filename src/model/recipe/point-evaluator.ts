import type { Setting } from "../../trial/index.ts";
import { quantityValue } from "../design.ts";
import { middleValues } from "../design-columns.ts";
import { modelError } from "../error.ts";
import type { Solved } from "../solved.ts";
import type { LimitFor } from "./limit-for.ts";

/**
 * A fit that answers at hundreds of thousands of points: estimate and leverage from the model's own columns, with nothing allocated on the way. Points are lists of
 * coordinates made by `centre` and changed in place by `set`, or by writing `coordinate(name, setting)` into `slotOf(name)`.
 */
export interface PointEvaluator {
  /** Length of a whitened point. */
  readonly rank: number;
  /** Degrees of freedom of `sd`. */
  readonly df: number;
  /** True where each point has degrees of freedom of its own, as with random sources; else all are `df`. */
  readonly dfVaries: boolean;
  /** Random sources of which one more part brings a fresh level, its scatter being in `sd`; empty by least squares. */
  readonly fresh: readonly string[];
  /** Standard deviation of one row on the scale that was fitted; null where no error is left. */
  readonly sd: number | null;
  readonly logScale: boolean;
  readonly weighted: boolean;
  /** Names of terms that the runs can't tell apart; empty where every point can be told. */
  readonly inseparable: readonly string[];
  /** The largest leverage of any run: points beyond it are extrapolated though each setting was cut. */
  readonly farthest: number;
  /** The middle of every quantity, blocks and levels averaged. */
  readonly centre: () => Float64Array;
  readonly slotOf: (name: string) => number;
  readonly coordinate: (name: string, setting: number) => number;
  readonly set: (point: Float64Array, name: string, setting: Setting) => void;
  /** Writes into `out` estimate (scale that was fitted), leverage, and the degrees of freedom of the mean's bound and of one more part's. */
  readonly evaluate: (point: Float64Array, out: Float64Array) => void;
  /** Writes the point whitened: its square is the leverage, the product of two is their covariance over σ². */
  readonly whiten: (point: Float64Array, into: Float64Array) => void;
  /** The same after further runs at whitened points, each on fresh levels; left out where the leverage says it all. */
  readonly withMore?: (added: readonly Float64Array[]) => Pick<PointEvaluator, "evaluate" | "withMore">;
}

/** Where `evaluate` leaves the degrees of freedom of a bound; null for those of `sd`. */
export function dfPlaceOf(whom: LimitFor): 2 | 3 | null {
  return whom === "mean" ? 2 : whom === "next" ? 3 : null;
}

export function dfFor(whom: LimitFor, evaluator: Pick<PointEvaluator, "df">, out: Float64Array): number {
  const place = dfPlaceOf(whom);
  return place === null ? evaluator.df : out[place];
}

/** `lower` is the triangle L with L L′ the inverse information: points are whitened by L′. */
export function pointEvaluator(solved: Solved): PointEvaluator & { readonly lower: Float64Array } {
  const { design, solution } = solved;
  const { kept, rank, coefficients, inverseCross } = solution;
  const { elementaries, factors } = design;
  const lower = choleskyOf(inverseCross, rank);
  const middle = middleValues(design);
  elementaries.forEach(({ centre }, k) => (middle[k] -= centre));
  // Columns as flat lists of slots: a squared quantity is the slot twice.
  const slots: number[] = [];
  const starts = [0];
  for (let i = 0; i < rank; i++) {
    for (const { elementary, degree } of design.columns[kept[i]].parts)
      for (let d = 0; d < degree; d++) slots.push(elementary);
    starts.push(slots.length);
  }
  const slot = Int32Array.from(slots);
  const start = Int32Array.from(starts);
  const column = new Float64Array(rank);
  const slotOf = (name: string): number =>
    elementaries.findIndex((one) => one.name === name && one.factor >= 0 && one.level === undefined);
  const coordinate = (name: string, setting: number): number => {
    const elementary = elementaries[slotOf(name)];
    return quantityValue(elementary, setting, "setting") - elementary.centre;
  };
  const fill = (point: Float64Array): void => {
    for (let i = 0; i < rank; i++) {
      let product = 1;
      for (let k = start[i]; k < start[i + 1]; k++) product *= point[slot[k]];
      column[i] = product;
    }
  };
  let farthest = 0;
  solution.leverage.forEach((leverage, i) => {
    const weight = solved.weights?.[i] ?? 1;
    if (weight > 0) farthest = Math.max(farthest, leverage / weight);
  });
  return {
    rank,
    lower,
    df: solution.df,
    dfVaries: false,
    fresh: [],
    sd: solved.variance === null ? null : Math.sqrt(solved.variance),
    logScale: solved.logScale,
    weighted: solved.weights !== undefined,
    inseparable: [
      ...new Set(solution.dropped.map(({ column: c }) => design.sources[design.columns[c].source].label)),
    ],
    farthest,
    centre: () => Float64Array.from(middle),
    slotOf,
    coordinate,
    set: (point, name, setting) => {
      const factor = factors.find((one) => one.name === name);
      if (factor === undefined) return;
      if (factor.kind === "quantity") {
        point[slotOf(name)] = coordinate(name, Number(setting));
        return;
      }
      if (!factor.levels.includes(String(setting)))
        throw modelError(`${name} ${setting}`, `one of ${factor.levels.join(", ")}`);
      elementaries.forEach((one, k) => {
        if (one.factor >= 0 && one.name === name)
          point[k] = (one.level === String(setting) ? 1 : 0) - one.centre;
      });
    },
    evaluate: (point, out) => {
      fill(point);
      let estimate = 0;
      for (let i = 0; i < rank; i++) estimate += column[i] * coefficients[i];
      let cross = 0;
      for (let j = 0; j < rank; j++) {
        let sum = 0;
        for (let i = j, at = j * rank + j; i < rank; i++, at += rank) sum += lower[at] * column[i];
        cross += sum * sum;
      }
      out[0] = estimate;
      out[1] = cross;
      out[2] = out[3] = solution.df;
    },
    whiten: (point, into) => {
      fill(point);
      for (let j = 0; j < rank; j++) {
        let sum = 0;
        for (let i = j, at = j * rank + j; i < rank; i++, at += rank) sum += lower[at] * column[i];
        into[j] = sum;
      }
    },
  };
}

/** The lower triangle L with L L′ = a, row by row. */
function choleskyOf(a: Float64Array, size: number): Float64Array {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * size + j];
      for (let k = 0; k < j; k++) sum -= lower[i * size + k] * lower[j * size + k];
      if (i === j) lower[i * size + i] = Math.sqrt(Math.max(0, sum));
      else lower[i * size + j] = lower[j * size + j] > 0 ? sum / lower[j * size + j] : 0;
    }
  }
  return lower;
}
