import { dotProduct } from "../../numerics/index.ts";
import { mayJoin, type Heredity } from "./heredity.ts";

/** Terms chosen by place, and what they leave unexplained. */
export interface Subset {
  readonly terms: readonly number[];
  readonly residualSumOfSquares: number;
}

export interface SubsetSearch {
  /** Every subset with a heredity and rank that hold, smallest first; see `keep`. */
  readonly subsets: readonly Subset[];
  readonly looked: number;
  /** The largest number of terms that was searched through. */
  readonly mostTerms: number;
  /** True where a larger number of terms was asked for than could be searched through. */
  readonly cut: boolean;
}

/** A column that others explain to this share of its own size can't be told from them. */
const dependent = 1e-9;
/** Subsets that are looked at before a larger size is left alone: about a second. */
const mostLooked = 3_000_000;

/**
 * Looks at every subset of columns up to a size and keeps the best of each size.
 *
 * Each step takes one column off all the columns after it and off the response (Gram and Schmidt, as modified), so that the last column of a subset
 * costs three numbers and no fit is made from nothing. `base` are the columns in every model (the mean, blocks). Columns come with
 * parents before children, so that heredity is known when a child is looked at.
 */
export function searchSubsets(
  columns: readonly { readonly column: Float64Array; readonly parents: readonly number[] }[],
  response: Float64Array,
  options: {
    readonly base: readonly Float64Array[];
    readonly heredity: Heredity;
    readonly mostTerms: number;
    /** How many of each size are kept. */
    readonly keep: number;
  },
): SubsetSearch {
  const { base, heredity, keep } = options;
  const rows = response.length;
  const sizes = columns.map(({ column }) => dotProduct(column, column));
  let start: Reduced = {
    columns: columns.map(({ column }) => Float64Array.from(column)),
    response: response.slice(),
  };
  for (const column of orthonormalised(base)) start = without(start, column, 0);
  const best: Subset[][] = [
    [{ terms: [], residualSumOfSquares: dotProduct(start.response, start.response) }],
  ];
  let looked = 1;
  let reached = 0;
  let cut = false;
  for (let size = 1; size <= options.mostTerms; size++) {
    if (looked + estimate(columns.length, size) > mostLooked && heredity === "none") {
      cut = true;
      break;
    }
    const found: Subset[] = [];
    const chosen: number[] = [];
    const has = (place: number) => chosen.includes(place);
    let over = false;
    const walk = (state: Reduced, from: number): void => {
      const unexplained = dotProduct(state.response, state.response);
      for (let place = from; place < columns.length && !over; place++) {
        if (!mayJoin(columns[place].parents, heredity, has)) continue;
        const column = state.columns[place];
        const square = dotProduct(column, column);
        if (square <= dependent * sizes[place]) continue;
        const along = dotProduct(column, state.response) / square;
        if (chosen.length + 1 === size) {
          looked++;
          if (looked > mostLooked) over = true;
          const left = unexplained - along * along * square;
          insert(found, { terms: [...chosen, place], residualSumOfSquares: Math.max(0, left) }, keep);
        } else {
          const unit = column.map((value) => value / Math.sqrt(square));
          chosen.push(place);
          walk(without(state, unit, place + 1), place + 1);
          chosen.pop();
        }
      }
    };
    walk(start, 0);
    if (over) {
      cut = true;
      break;
    }
    if (found.length === 0) break;
    best.push(found);
    reached = size;
    if (size + base.length + 1 >= rows) break;
  }
  return { subsets: best.flat(), looked, mostTerms: reached, cut };
}

function insert(found: Subset[], subset: Subset, keep: number): void {
  const last = found.at(-1);
  if (found.length === keep && last && subset.residualSumOfSquares >= last.residualSumOfSquares) return;
  const place = found.findIndex((other) => other.residualSumOfSquares > subset.residualSumOfSquares);
  found.splice(place < 0 ? found.length : place, 0, subset);
  if (found.length > keep) found.pop();
}

/** Columns and response, less what other columns explain of them. */
interface Reduced {
  readonly columns: readonly Float64Array[];
  readonly response: Float64Array;
}

/** What is left of the columns from a place on, and of the response, once a unit column is taken off. */
function without(state: Reduced, unit: Float64Array, from: number): Reduced {
  const off = (column: Float64Array): Float64Array => {
    const along = dotProduct(unit, column);
    const left = new Float64Array(column.length);
    for (let row = 0; row < left.length; row++) left[row] = column[row] - along * unit[row];
    return left;
  };
  return {
    columns: state.columns.map((column, place) => (place < from ? column : off(column))),
    response: off(state.response),
  };
}

function orthonormalised(base: readonly Float64Array[]): readonly Float64Array[] {
  const made: Float64Array[] = [];
  for (const column of base) {
    let left = column.slice();
    for (const unit of [...made, ...made]) {
      const along = dotProduct(unit, left);
      left = left.map((value, row) => value - along * unit[row]);
    }
    const square = dotProduct(left, left);
    if (square > dependent * dotProduct(column, column))
      made.push(left.map((value) => value / Math.sqrt(square)));
  }
  return made;
}

/** Subsets of one size among so many columns. */
function estimate(columns: number, size: number): number {
  let count = 1;
  for (let k = 0; k < size; k++) count *= (columns - k) / (k + 1);
  return count;
}
