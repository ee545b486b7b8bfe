import type { Term } from "../../model/index.ts";
import type { Factor, Setting } from "../../trial/index.ts";
import { categoryBasis, termColumns } from "../coded-columns.ts";
import { blockColumns } from "../judge/model-columns.ts";
import { regionMoments } from "../judge/efficiency.ts";
import { codedSetting, isQuantity, sameSetting, settingAt, tidied } from "../levels.ts";
import { LayoutError } from "../error.ts";

/**
 * A model over candidate settings, in the form that the search needs. A row of the design matrix is a product of one
 * function a factor; `functions[j][m][c]` is function m of factor j at its candidate c (m from 1; 0 stands for "not in it").
 */
export interface SearchModel {
  readonly factors: readonly Factor[];
  /** The settings that each factor may take, in the factor's unit. */
  readonly candidates: readonly (readonly Setting[])[];
  readonly columnCount: number;
  readonly functions: readonly (readonly Float64Array[])[];
  /** `columnFunction[j][column]`: which function of factor j stands in the column. */
  readonly columnFunction: readonly Uint8Array[];
  /** `functionColumns[j][m]`: the columns in which function m of factor j stands. */
  readonly functionColumns: readonly (readonly Int32Array[])[];
  /** First column of the terms; before it stand the mean and the blocks. */
  readonly firstTerm: number;
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
  /** Settings that each factor may take besides: runs that are kept were cut at them. */
  readonly also: readonly (readonly Setting[])[];
}

/** Candidates of a quantity without levels or increments, where the model bends: in tenths of the half range. */
const GRID = 21;
/** Where the machine's steps are finer, so many of them are tried, evenly spaced. */
const MOST_STEPS = 41;

export function searchModel(
  factors: readonly Factor[],
  options: SearchModelOptions,
  constrained: boolean,
): SearchModel {
  const all = [...options.terms, ...options.lesser];
  const degrees = factors.map((factor) => Math.max(0, ...all.map((term) => term[factor.name] ?? 0)));
  const candidates = factors.map((factor, place) => {
    const own = candidatesOf(factor, degrees[place] ?? 0, constrained);
    const more = [...new Set(options.also[place] ?? [])];
    return [...own, ...more.filter((setting) => !own.some((candidate) => sameSetting(candidate, setting)))];
  });
  const blocks = blockColumns(Array.from({ length: options.blocks }, (_, block) => block + 1));
  const firstTerm = 1 + blocks.length;
  const parts = all.flatMap((term) => termColumns(factors, term, []).parts);
  const columnCount = firstTerm + parts.length;
  const named = new Map(factors.map((factor, place) => [factor.name, place]));
  const columnFunction = factors.map(() => new Uint8Array(columnCount));
  const keys: string[][] = factors.map(() => []);
  parts.forEach((columnParts, index) => {
    for (const [name, part] of columnParts) {
      const place = named.get(name) ?? 0;
      const key = "power" in part ? `power ${part.power}` : `basis ${part.basis}`;
      const own = keys[place] ?? [];
      if (!own.includes(key)) own.push(key);
      const row = columnFunction[place];
      if (row) row[firstTerm + index] = own.indexOf(key) + 1;
    }
  });
  const functions = factors.map((factor, place) =>
    functionsOf(factor, candidates[place] ?? [], keys[place] ?? []),
  );
  const moment = regionMoments([new Map(), ...blocks.map(() => undefined), ...parts]);
  const lesserColumns = options.lesser.flatMap((term) => termColumns(factors, term, []).parts).length;
  return {
    factors,
    candidates,
    columnCount,
    functions,
    columnFunction,
    functionColumns: columnFunction.map((row, place) =>
      [0, ...(keys[place] ?? []).map((_, index) => index + 1)].map((m) =>
        Int32Array.from([...row.keys()].filter((column) => m > 0 && row[column] === m)),
      ),
    ),
    firstTerm,
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

function candidatesOf(factor: Factor, degree: number, constrained: boolean): readonly Setting[] {
  if (factor.kind === "category") return factor.levels;
  if (factor.levels) return factor.levels;
  if (factor.increment !== undefined) return steps(factor.low, factor.high, factor.increment, factor.name);
  // A model that is straight in a factor is best served by its ends, unless a constraint cuts them off.
  if (degree < 2 && !constrained) return [factor.low, factor.high];
  return Array.from({ length: GRID }, (_, index) => settingAt(factor, -1 + (2 * index) / (GRID - 1)));
}

function steps(low: number, high: number, increment: number, name: string): readonly number[] {
  const first = Math.ceil(low / increment - 1e-8);
  const last = Math.floor(high / increment + 1e-8);
  if (last <= first) {
    throw new LayoutError(
      `${name}: fewer than two multiples of the increment ${increment} lie between ${low} and ${high}. Make the increment smaller.`,
    );
  }
  const count = Math.min(MOST_STEPS, last - first + 1);
  return [
    ...new Set(
      Array.from({ length: count }, (_, index) =>
        tidied(Math.round(first + (index * (last - first)) / (count - 1)) * increment),
      ),
    ),
  ];
}

function functionsOf(
  factor: Factor,
  candidates: readonly Setting[],
  keys: readonly string[],
): readonly Float64Array[] {
  const values = keys.map((key) => {
    const number = Number(key.split(" ")[1]);
    if (isQuantity(factor))
      return Float64Array.from(candidates, (setting) => codedSetting(factor, setting) ** number);
    const basis = categoryBasis(factor.levels.length)[number] ?? [];
    return Float64Array.from(candidates, (setting) => basis[factor.levels.indexOf(String(setting))] ?? 0);
  });
  return [new Float64Array(candidates.length).fill(1), ...values];
}

/** The row of the design matrix at a point (one candidate a factor) in a block (from 0). */
export function fillRow(
  model: SearchModel,
  point: Int32Array,
  offset: number,
  block: number,
  row: Float64Array,
): void {
  row.fill(1);
  model.blockRows[block]?.forEach((value, index) => (row[1 + index] = value));
  for (let factor = 0; factor < model.factors.length; factor += 1) {
    const own = model.columnFunction[factor];
    const functions = model.functions[factor];
    const candidate = point[offset + factor] ?? 0;
    if (!own || !functions) continue;
    for (let column = model.firstTerm; column < model.columnCount; column += 1) {
      const m = own[column] ?? 0;
      if (m > 0) row[column] = (row[column] ?? 0) * (functions[m]?.[candidate] ?? 0);
    }
  }
}
