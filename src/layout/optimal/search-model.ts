import type { Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { termColumns } from "../coded-columns.ts";
import { blockColumns } from "../judge/model-columns.ts";
import { regionMoments } from "../judge/efficiency.ts";
import { axisOf, type Axis } from "./axis.ts";

/** Where one factor stands in the model: the columns of each of its functions, and what else stands in those columns. */
export interface FactorColumns {
  /** Columns, grouped by the function of the factor that stands in them. */
  readonly columns: Int32Array;
  /** Function m has the columns from `from[m]` up to `from[m + 1]`. */
  readonly from: Int32Array;
  /** The other slots of column q stand from `othersFrom[q]` up to `othersFrom[q + 1]` in `others`. */
  readonly others: Int32Array;
  readonly othersFrom: Int32Array;
}

/**
 * A model in the form that the search needs. A row of the design matrix is a product of functions of single factors; the
 * values of all functions of a run stand side by side in slots.
 */
export interface SearchModel {
  readonly factors: readonly Factor[];
  readonly axes: readonly Axis[];
  readonly columnCount: number;
  /** First column of the terms; before it stand the mean and the blocks. */
  readonly firstTerm: number;
  readonly slotCount: number;
  /** The slots of a factor's functions begin here. */
  readonly firstSlot: Int32Array;
  /** Column c is the product of the slots from `slotsFrom[c]` up to `slotsFrom[c + 1]`. */
  readonly slots: Int32Array;
  readonly slotsFrom: Int32Array;
  readonly factorColumns: readonly FactorColumns[];
  /** Values of the block columns, block by block (from 0). */
  readonly blockRows: readonly Float64Array[];
  /** What the prior adds to the diagonal of the information: 0 for terms that matter, more for those that matter less. */
  readonly prior: Float64Array;
  /** Mean over the region of the products of columns, row-major; what I averages. */
  readonly moments: Float64Array;
}

export interface SearchModelOptions {
  readonly terms: readonly Term[];
  /** Terms that may be small: estimated only where runs are left. */
  readonly lesser: readonly Term[];
  /** Size of the lesser effects beside σ: the prior adds 1/size² to their information. */
  readonly lesserSize: number;
  readonly blocks: number;
  /** True where a factor that the model is straight in is best at its ends: by D, and where no constraint cuts them off. */
  readonly endsAreBest: boolean;
}

export function searchModel(factors: readonly Factor[], options: SearchModelOptions): SearchModel {
  const all = [...options.terms, ...options.lesser];
  const blocks = blockColumns(Array.from({ length: options.blocks }, (_, block) => block + 1));
  const firstTerm = 1 + blocks.length;
  const parts = all.flatMap((term) => termColumns(factors, term, []).parts);
  const columnCount = firstTerm + parts.length;
  const places = new Map(factors.map((factor, place) => [factor.name, place]));
  const keys: string[][] = factors.map(() => []);
  const stands = parts.map((columnParts) =>
    [...columnParts].map(([name, part]) => {
      const place = places.get(name) ?? 0;
      const key = "power" in part ? `power ${part.power}` : `basis ${part.basis}`;
      const own = keys[place] ?? [];
      if (!own.includes(key)) own.push(key);
      return { place, m: own.indexOf(key) };
    }),
  );
  const axes = factors.map((factor, place) => axisOf(factor, keys[place] ?? [], options));
  let slotCount = 0;
  const firstSlot = Int32Array.from(axes, (axis) => {
    slotCount += axis.functionCount;
    return slotCount - axis.functionCount;
  });
  const slotOf = ({ place, m }: { place: number; m: number }) => (firstSlot[place] ?? 0) + m;
  const columnSlots = Array.from({ length: columnCount }, (_, column) =>
    (stands[column - firstTerm] ?? []).map(slotOf),
  );
  const moment = regionMoments([new Map(), ...blocks.map(() => undefined), ...parts]);
  const lesserColumns = options.lesser.flatMap((term) => termColumns(factors, term, []).parts).length;
  return {
    factors,
    axes,
    columnCount,
    firstTerm,
    slotCount,
    firstSlot,
    slots: Int32Array.from(columnSlots.flat()),
    slotsFrom: starts(columnSlots),
    factorColumns: axes.map((axis, place) => {
      const own = Array.from({ length: axis.functionCount }, (_, m) => slotOf({ place, m }));
      const columns = own.map((slot) =>
        [...columnSlots.keys()].filter((column) => columnSlots[column]?.includes(slot)),
      );
      const others = columns
        .flat()
        .map((column) => (columnSlots[column] ?? []).filter((slot) => !own.includes(slot)));
      return {
        columns: Int32Array.from(columns.flat()),
        from: starts(columns),
        others: Int32Array.from(others.flat()),
        othersFrom: starts(others),
      };
    }),
    blockRows: Array.from({ length: options.blocks }, (_, block) =>
      Float64Array.from(blocks, (column) => column[block] ?? 0),
    ),
    prior: Float64Array.from({ length: columnCount }, (_, column) =>
      column >= columnCount - lesserColumns ? 1 / options.lesserSize ** 2 : 0,
    ),
    moments: Float64Array.from({ length: columnCount ** 2 }, (_, index) =>
      moment(Math.floor(index / columnCount), index % columnCount),
    ),
  };
}

/** Where each list begins when they stand one after another, and where the last ends. */
function starts(lists: readonly (readonly unknown[])[]): Int32Array {
  const from = new Int32Array(lists.length + 1);
  lists.forEach((list, index) => (from[index + 1] = (from[index] ?? 0) + list.length));
  return from;
}

/** The row of the design matrix, from `rowAt` in `rows`, of a run whose function values stand from `at`. */
export function fillRow(
  model: SearchModel,
  values: Float64Array,
  at: number,
  block: number,
  rows: Float64Array,
  rowAt: number,
): void {
  const { slots, slotsFrom, columnCount, firstTerm } = model;
  const blockRow = model.blockRows[block];
  rows[rowAt] = 1;
  for (let column = 1; column < firstTerm; column += 1) rows[rowAt + column] = blockRow[column - 1];
  for (let column = firstTerm; column < columnCount; column += 1) {
    let product = 1;
    for (let s = slotsFrom[column]; s < slotsFrom[column + 1]; s += 1) product *= values[at + slots[s]];
    rows[rowAt + column] = product;
  }
}

/** For each column in which a factor stands, the product of what the other factors put into it. */
export function fillSlopes(
  columns: FactorColumns,
  values: Float64Array,
  at: number,
  slopes: Float64Array,
  slopesAt: number,
): void {
  const { others, othersFrom } = columns;
  for (let q = 0; q < columns.columns.length; q += 1) {
    let product = 1;
    for (let s = othersFrom[q]; s < othersFrom[q + 1]; s += 1) product *= values[at + others[s]];
    slopes[slopesAt + q] = product;
  }
}
