import {
  extent,
  leastSquares,
  nonlinearLeastSquares,
  type NonlinearFit,
  type NonlinearModel,
} from "../../numerics/index.ts";
import { floorModel, type FloorForm } from "./floor-model.ts";

/** Data of a floor fit: ln of the response over its own geometric mean, and one column a part of the law. */
export interface FloorData {
  readonly form: FloorForm;
  readonly response: Float64Array;
  readonly columns: readonly Float64Array[];
  readonly weights: Float64Array | undefined;
}

/** Floors to start from, as shares of the largest that every row leaves room for. */
const starts = [0, 0.3, 0.6, 0.85, 0.97];

/**
 * The best of several searches, each from the power law that is left once a floor is taken off. `fixed` holds parameters at the values of `at`. Null
 * where none settles.
 */
export function searchFloor(
  data: FloorData,
  options: { readonly fixed?: readonly number[]; readonly at?: ReadonlyMap<number, number> } = {},
): NonlinearFit | null {
  const { fixed = [], at = new Map<number, number>() } = options;
  const model = floorModel(data.form, data.columns, data.response.length);
  const tries = fixed.includes(0) ? [starts[0]] : starts;
  let best: NonlinearFit | null = null;
  for (const share of tries) {
    const start = startFrom(data, share);
    for (const [parameter, value] of at) start[parameter] = value;
    const fit = settled(model, data, start, fixed);
    if (fit === null) continue;
    if (best === null || fit.residualSumOfSquares < best.residualSumOfSquares * (1 - 1e-12)) best = fit;
  }
  return best;
}

function settled(
  model: NonlinearModel,
  { response, weights }: FloorData,
  start: Float64Array,
  fixed: readonly number[],
): NonlinearFit | null {
  for (const firstRadius of [1, 0.1, 10]) {
    const fit = nonlinearLeastSquares(model, response, start, { weights, fixed, firstRadius });
    if (fit.outcome === "converged" || fit.outcome === "exact") return fit;
  }
  return null;
}

/** The power law of what lies above a floor that takes this share of the room below the lowest row. */
function startFrom({ form, response, columns, weights }: FloorData, share: number): Float64Array {
  const twice = form === "quadrature" ? 2 : 1;
  const room = Math.exp(twice * extent(response)[0]);
  const floor = share * room;
  const above = response.map((value) => Math.log(Math.exp(twice * value) - floor) / twice);
  const rows = response.length;
  const { kept, coefficients } = leastSquares(
    [new Float64Array(rows).fill(1), ...columns].map((high) => ({ high })),
    above,
    weights === undefined ? {} : { weights },
  );
  const start = new Float64Array(columns.length + 2);
  start[0] = floor;
  kept.forEach((column, k) => (start[column + 1] = coefficients[k]));
  return start;
}
