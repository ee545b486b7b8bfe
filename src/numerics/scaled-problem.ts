import type { DesignColumn } from "./design-column.ts";
import { multiplyExactly, squareRootExactly } from "./double-double.ts";
import { numericsError } from "./error.ts";
import type { PreciseMatrix, PreciseVector } from "./precise-products.ts";
import { preciseVector } from "./precise-products.ts";
import { largest, scaleToOne } from "./vector.ts";

/** Rows of weight above 0, heaviest first; multiplied by the root of their weight; columns and response brought near 1 by powers of two. */
export interface ScaledProblem {
  readonly matrix: PreciseMatrix;
  readonly response: PreciseVector;
  /** Which row of the caller's stands here. */
  readonly row: Int32Array;
  readonly rootWeight: PreciseVector | undefined;
  /** Powers of two: scaled column = columnScale × column, and likewise for the response. */
  readonly columnScale: Float64Array;
  readonly responseScale: number;
}

/** The door's checks of least squares. */
export function requireProblem(
  columns: readonly DesignColumn[],
  response: Float64Array,
  weights: Float64Array | undefined,
  rankTolerance: number,
): void {
  const n = response.length;
  if (n === 0) throw numericsError("a response without a single value", "at least one row");
  requireEntries("the response", response, n);
  columns.forEach(({ high, low }, j) => {
    requireEntries(`column ${j}`, high, n);
    if (low !== undefined) requireEntries(`the low part of column ${j}`, low, n);
  });
  if (weights !== undefined) {
    requireEntries("the weights", weights, n);
    const negative = weights.findIndex((weight) => weight < 0);
    if (negative >= 0) throw numericsError(`weight ${weights[negative]} in row ${negative}`, "0 or more");
    if (largest(weights) === 0)
      throw numericsError("weights that are all 0", "at least one row of weight above 0");
  }
  if (!(rankTolerance > 0 && rankTolerance < 1))
    throw numericsError(`a rank tolerance of ${rankTolerance}`, "a number between 0 and 1");
}

function requireEntries(name: string, values: Float64Array, length: number): void {
  if (values.length !== length)
    throw numericsError(`${name}, with ${values.length} entries`, `${length}, one a row`);
  for (let i = 0; i < length; i++)
    if (!Number.isFinite(values[i]))
      throw numericsError(`${name} holds ${values[i]} in row ${i}`, "a finite number");
}

export function scaledProblem(
  columns: readonly DesignColumn[],
  response: Float64Array,
  weights: Float64Array | undefined,
): ScaledProblem {
  const row = rowsInUse(response.length, weights);
  const rows = row.length;
  const rootWeight = weights && rootsOf(weights, row);
  const entries = new Float64Array(rows * columns.length);
  const anyLow = rootWeight !== undefined || columns.some(({ low }) => low !== undefined);
  const low = anyLow ? new Float64Array(rows * columns.length) : undefined;
  const columnScale = new Float64Array(columns.length);
  columns.forEach((column, j) => {
    columnScale[j] = scaleToOne(largest(column.high));
    place(column, row, rootWeight, columnScale[j], { high: entries, low }, j * rows);
  });
  const responseScale = scaleToOne(largest(response));
  const scaledResponse = preciseVector(rows);
  place({ high: response }, row, rootWeight, responseScale, scaledResponse, 0);
  return {
    matrix: { rows, columns: columns.length, entries, low },
    response: scaledResponse,
    row,
    rootWeight,
    columnScale,
    responseScale,
  };
}

/** Heaviest first: row by row stability of the reflections when weights differ by many powers of ten (Cox and Higham 1998). */
function rowsInUse(rows: number, weights: Float64Array | undefined): Int32Array {
  const all = new Int32Array(rows);
  for (let i = 0; i < rows; i++) all[i] = i;
  return weights === undefined
    ? all
    : all.filter((i) => weights[i] > 0).sort((a, b) => weights[b] - weights[a] || a - b);
}

/** Square roots to double-double, of the weights as they are. */
function rootsOf(weights: Float64Array, row: Int32Array): PreciseVector {
  const roots = preciseVector(row.length);
  row.forEach((from, i) => {
    const root = squareRootExactly(weights[from]);
    roots.high[i] = root.high;
    roots.low[i] = root.low;
  });
  return roots;
}

/** Scaled and weighted entries of one column, written from `start` on; the low part only where there is one to write to. */
function place(
  { high: from, low: fromLow }: DesignColumn,
  row: Int32Array,
  rootWeight: PreciseVector | undefined,
  scale: number,
  { high, low }: { readonly high: Float64Array; readonly low: Float64Array | undefined },
  start: number,
): void {
  const rows = row.length;
  if (rootWeight === undefined || low === undefined) {
    // Every row is in use, in the caller's order.
    for (let i = 0; i < rows; i++) high[start + i] = from[i] * scale;
    if (low !== undefined && fromLow !== undefined)
      for (let i = 0; i < rows; i++) low[start + i] = fromLow[i] * scale;
    return;
  }
  for (let i = 0; i < rows; i++) {
    const entry = { high: from[row[i]] * scale, low: (fromLow?.[row[i]] ?? 0) * scale };
    const product = multiplyExactly(entry, { high: rootWeight.high[i], low: rootWeight.low[i] });
    high[start + i] = product.high;
    low[start + i] = product.low;
  }
}
