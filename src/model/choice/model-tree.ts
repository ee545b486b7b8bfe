import { dotProduct } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { mayJoin, type Heredity } from "../screening/heredity.ts";

/** A column that may be picked, with the places of the columns that heredity asks for. */
export interface TreeColumn {
  readonly column: Float64Array;
  readonly parents: readonly number[];
}

/** What a choice of model is made from: numbers only, so that they cross to another thread. */
export interface ModelTreeOptions {
  /** Columns of every model: the mean, each block's own level. */
  readonly base: readonly Float64Array[];
  readonly heredity: Heredity;
  readonly mostTerms: number;
}

/**
 * Every model of a search as a tree: a model is its parent and one column more, and what that column adds is one unit column at right angles to all before it. So
 * for any response on the same settings a model's sum of squares costs one product of two columns, and no fit is made from nothing.
 */
export interface ModelTree {
  readonly rows: number;
  /** One unit column a model, one after the other. */
  readonly units: Float64Array;
  /** Place of the model with one column less; −1 for the base alone. */
  readonly parent: Int32Array;
  /** Place among the columns of the one that was added last. */
  readonly last: Int32Array;
  readonly size: Int32Array;
}

/** A column that others explain to this share of its own size can't be told from them; as `searchSubsets` has it. */
const dependent = 1e-9;
const mostModels = 200_000;

/** The same models as `searchSubsets` looks at, up to 200,000 of them; more are refused. */
export function modelTree(
  columns: readonly TreeColumn[],
  { base, heredity, mostTerms }: ModelTreeOptions,
): ModelTree {
  const rows = columns[0]?.column.length ?? 0;
  const units: Float64Array[] = [];
  const parent: number[] = [];
  const last: number[] = [];
  const size: number[] = [];
  const chosen: number[] = [];
  const has = (place: number): boolean => chosen.includes(place);
  const walk = (before: readonly Float64Array[], from: number, at: number): void => {
    if (chosen.length === mostTerms) return;
    for (let place = from; place < columns.length; place++) {
      const { column, parents } = columns[place];
      if (!mayJoin(parents, heredity, has)) continue;
      const unit = unitBeside(column, before);
      if (unit === null) continue;
      if (units.length === mostModels)
        throw modelError(
          "a choice among more than 200,000 models, to be made anew in each draw",
          "200,000 models at most",
          "Allow fewer terms (mostTerms), or strong heredity.",
        );
      const here = units.push(unit) - 1;
      parent.push(at);
      last.push(place);
      chosen.push(place);
      size.push(chosen.length);
      walk([...before, unit], place + 1, here);
      chosen.pop();
    }
  };
  walk(orthonormal(base), 0, -1);
  const flat = new Float64Array(units.length * rows);
  units.forEach((unit, at) => flat.set(unit, at * rows));
  return {
    rows,
    units: flat,
    parent: Int32Array.from(parent),
    last: Int32Array.from(last),
    size: Int32Array.from(size),
  };
}

/** The columns of a model by their places, in the order in which they were added; none for the base alone. */
export function columnsOfModel(tree: ModelTree, model: number): readonly number[] {
  const places: number[] = [];
  for (let at = model; at >= 0; at = tree.parent[at]) places.push(tree.last[at]);
  return places.reverse();
}

/** Unit columns that span the columns; those that others explain are left out. */
export function orthonormal(columns: readonly Float64Array[]): readonly Float64Array[] {
  const made: Float64Array[] = [];
  for (const column of columns) {
    const unit = unitBeside(column, made);
    if (unit !== null) made.push(unit);
  }
  return made;
}

/** What is left of a column beside unit columns, as a unit column; null where they explain it. Taken off twice, so that right angles hold to rounding. */
function unitBeside(column: Float64Array, units: readonly Float64Array[]): Float64Array | null {
  const left = column.slice();
  for (const unit of [...units, ...units]) {
    const along = dotProduct(unit, left);
    for (let row = 0; row < left.length; row++) left[row] -= along * unit[row];
  }
  const square = dotProduct(left, left);
  return square > dependent * dotProduct(column, column)
    ? left.map((value) => value / Math.sqrt(square))
    : null;
}
