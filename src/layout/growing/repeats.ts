import { informationOf } from "../judge/information.ts";

/** Which candidates to repeat so that a question's variance is smallest. */
export interface RepeatsAsked {
  /** The model's columns over the cut runs, then over the candidates. */
  readonly columns: readonly Float64Array[];
  /** How many of the rows were cut. */
  readonly cut: number;
  /** Weights on the columns, one list a figure; the largest variance counts. */
  readonly weights: readonly (readonly number[])[];
  readonly runs: number;
  /** Places to start an exchange from. */
  readonly from?: readonly number[];
}

export interface Repeats {
  /** Places of the candidates, rising; a place may stand several times. */
  readonly places: readonly number[];
  /** Of the question, for σ = 1; Infinity where the runs can't answer it yet. */
  readonly variance: number;
  readonly rank: number;
}

/** Choices that are all tried; beyond, an exchange. */
const MOST_CHOICES = 4000;

/** The best repeats; null where the question stands on columns that no repeat can tell apart. */
export function chosenRepeats(asked: RepeatsAsked): Repeats | null {
  const { columns, cut, weights, runs, from = [] } = asked;
  const candidates = (columns[0]?.length ?? 0) - cut;
  const { kept, dropped } = informationOf(columns);
  const mixed = new Set(dropped.flatMap(({ column, on }) => [column, ...on.map((part) => part.column)]));
  if (weights.some((row) => row.some((weight, column) => weight !== 0 && mixed.has(column)))) {
    // A mean may be told although single terms are not, where its weights lie along the runs; this is left to the fit.
    return null;
  }
  const rowOf = (row: number): Float64Array =>
    Float64Array.from(kept, (column) => columns[column]?.[row] ?? 0);
  const cutRows = Array.from({ length: cut }, (_, row) => rowOf(row));
  const rows = Array.from({ length: candidates }, (_, row) => rowOf(cut + row));
  const figures = weights.map((row) => Float64Array.from(kept, (column) => row[column] ?? 0));
  const start = crossProducts(cutRows, kept.length);
  const varianceOf = (places: readonly number[]): number =>
    largestVariance(
      plus(
        start,
        places.map((place) => rows[place] ?? new Float64Array(kept.length)),
      ),
      figures,
    );
  const places =
    choices(candidates, runs) <= MOST_CHOICES
      ? bestOf(multisets(candidates, runs), varianceOf)
      : exchanged(candidates, runs, from, varianceOf);
  return { places, variance: varianceOf(places), rank: kept.length };
}

function bestOf(
  sets: Iterable<readonly number[]>,
  varianceOf: (places: readonly number[]) => number,
): readonly number[] {
  let best: readonly number[] = [];
  let least = Infinity;
  for (const places of sets) {
    const variance = varianceOf(places);
    if (best.length === 0 || variance < least * (1 - 1e-12)) [best, least] = [places, variance];
  }
  return best;
}

/** One more run at a time, then each run against every candidate until nothing is gained. */
function exchanged(
  candidates: number,
  runs: number,
  from: readonly number[],
  varianceOf: (places: readonly number[]) => number,
): readonly number[] {
  const all = Array.from({ length: candidates }, (_, place) => place);
  let places = [...from];
  while (places.length < runs)
    places = [
      ...bestOf(
        all.map((place) => [...places, place]),
        varianceOf,
      ),
    ];
  let least = varianceOf(places);
  for (let gained = true; gained;) {
    gained = false;
    for (let at = 0; at < places.length; at += 1) {
      for (const place of all) {
        const next = places.map((old, index) => (index === at ? place : old));
        const variance = varianceOf(next);
        if (variance < least * (1 - 1e-9)) {
          [places, least, gained] = [next, variance, true];
        }
      }
    }
  }
  return places.sort((one, other) => one - other);
}

function choices(items: number, chosen: number): number {
  let sets = 1;
  for (let index = 0; index < chosen; index += 1) sets = (sets * (items + index)) / (index + 1);
  return sets;
}

function* multisets(items: number, size: number, from = 0): Generator<readonly number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let place = from; place < items; place += 1)
    for (const rest of multisets(items, size - 1, place)) yield [place, ...rest];
}

/** The sum of the products of a row with itself, upper triangle, row i, column j at i × size + j. */
function crossProducts(rows: readonly Float64Array[], size: number): Float64Array {
  return plus(new Float64Array(size * size), rows);
}

function plus(start: Float64Array, rows: readonly Float64Array[]): Float64Array {
  const sum = Float64Array.from(start);
  for (const row of rows) {
    for (let i = 0; i < row.length; i += 1)
      for (let j = i; j < row.length; j += 1) {
        const at = i * row.length + j;
        sum[at] = (sum[at] ?? 0) + (row[i] ?? 0) * (row[j] ?? 0);
      }
  }
  return sum;
}

/** A pivot below this share of its own column is rounding: the runs can't tell the column from earlier ones. */
const SINGULAR = 1e-11;

/**
 * The largest variance of the figures: M = R′R, then |R′⁻¹ w|². Only used to compare choices of runs on coded columns; what is
 * told to the reader is judged anew by orthogonal columns.
 */
function largestVariance(products: Float64Array, figures: readonly Float64Array[]): number {
  const size = Math.round(Math.sqrt(products.length));
  const triangle = Float64Array.from(products);
  for (let i = 0; i < size; i += 1) {
    for (let j = i; j < size; j += 1) {
      let sum = triangle[i * size + j] ?? 0;
      for (let k = 0; k < i; k += 1) sum -= (triangle[k * size + i] ?? 0) * (triangle[k * size + j] ?? 0);
      if (j > i) triangle[i * size + j] = sum / (triangle[i * size + i] ?? 1);
      else if (sum > SINGULAR * (products[i * size + i] ?? 0)) triangle[i * size + i] = Math.sqrt(sum);
      else return Infinity;
    }
  }
  return Math.max(
    ...figures.map((weights) => {
      const solved = new Float64Array(size);
      let squares = 0;
      for (let i = 0; i < size; i += 1) {
        let sum = weights[i] ?? 0;
        for (let k = 0; k < i; k += 1) sum -= (triangle[k * size + i] ?? 0) * (solved[k] ?? 0);
        solved[i] = sum / (triangle[i * size + i] ?? 1);
        squares += (solved[i] ?? 0) ** 2;
      }
      return squares;
    }),
  );
}
