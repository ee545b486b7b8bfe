import { criterionMoments, freshState, type Criterion, type InformationState } from "./information-state.ts";
import { fillRow, type SearchModel } from "./search-model.ts";

/** One design: a candidate for every factor of every run. Fixed runs are kept as they are. */
export interface SearchDesign {
  readonly points: Int32Array;
  /** From 0. */
  readonly blockOf: Int32Array;
  /** The first so many runs are fixed. */
  readonly fixed: number;
}

export interface ExchangeResult {
  readonly points: Int32Array;
  /** Larger is better: log determinant for D, minus the trace for I and A; −∞ where terms can't be told apart. */
  readonly worth: number;
}

/** True where a point (candidates at `offset`) may be cut. */
export type Allowed = (points: Int32Array, offset: number) => boolean;

/** A step must gain this much, relatively: smaller gains are rounding and would go on for ever. */
const LEAST_GAIN = 1e-9;
/** Sweeps after which a search is stopped whatever it gains; ten or so are usual. */
const MOST_SWEEPS = 200;
/** Added to the diagonal of a start that can't tell all terms apart. */
const RIDGE = 1e-3;

/**
 * Coordinate exchange (Meyer and Nachtsheim, Technometrics 37, 1995, 60–69): for each run and factor in turn the best
 * candidate is taken, until a whole sweep gains nothing. A change of one run changes the information by two outer products,
 * so that inverse, determinant and trace are updated (Sherman–Morrison–Woodbury) and never computed anew inside a sweep.
 */
export function exchange(
  model: SearchModel,
  start: SearchDesign,
  criterion: Criterion,
  allowed: Allowed | undefined,
): ExchangeResult {
  const points = Int32Array.from(start.points);
  const moments = criterionMoments(model, criterion);
  const work = workspace(model);
  let ridge = 0;
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep += 1) {
    let state = freshState(model, points, start.blockOf, moments, 0);
    if (state) ridge = 0;
    else {
      ridge = ridge === 0 ? RIDGE : ridge;
      state = freshState(model, points, start.blockOf, moments, ridge);
      if (!state) break;
    }
    let changed = false;
    for (let run = start.fixed; run < start.blockOf.length; run += 1) {
      if (improveRun({ model, points, run, block: start.blockOf[run] ?? 0, state, moments, allowed, work }))
        changed = true;
    }
    if (!changed) break;
  }
  const last = freshState(model, points, start.blockOf, moments, 0);
  return { points, worth: last ? (moments ? -last.trace : last.logDeterminant) : Number.NEGATIVE_INFINITY };
}

interface Workspace {
  readonly row: Float64Array;
  readonly solved: Float64Array;
  readonly weighed: Float64Array;
  readonly newRow: Float64Array;
  readonly newSolved: Float64Array;
  readonly newWeighed: Float64Array;
  readonly slopes: Float64Array;
}

function workspace(model: SearchModel): Workspace {
  const vector = () => new Float64Array(model.columnCount);
  return {
    row: vector(),
    solved: vector(),
    weighed: vector(),
    newRow: vector(),
    newSolved: vector(),
    newWeighed: vector(),
    slopes: vector(),
  };
}

interface RunContext {
  readonly model: SearchModel;
  readonly points: Int32Array;
  readonly run: number;
  readonly block: number;
  readonly state: InformationState;
  readonly moments: Float64Array | undefined;
  readonly allowed: Allowed | undefined;
  readonly work: Workspace;
}

function improveRun(context: RunContext): boolean {
  const { model, points, run, block, state, moments, work } = context;
  const size = model.columnCount;
  const offset = run * model.factors.length;
  let changed = false;
  fillRow(model, points, offset, block, work.row);
  multiply(state.inverse, work.row, work.solved, size);
  if (moments) multiply(state.weighted, work.row, work.weighed, size);
  for (let factor = 0; factor < model.factors.length; factor += 1) {
    const before = points[offset + factor] ?? 0;
    const best = bestCandidate(context, factor, offset, before);
    if (best === before) continue;
    points[offset + factor] = best;
    fillRow(model, points, offset, block, work.newRow);
    applyExchange(state, work, moments !== undefined, size);
    work.row.set(work.newRow);
    multiply(state.inverse, work.row, work.solved, size);
    if (moments) multiply(state.weighted, work.row, work.weighed, size);
    changed = true;
  }
  return changed;
}

/**
 * The candidate of one factor that serves best. With h_m the row's part that goes with function m of the factor, the new row
 * is the old one + Σ δ_m h_m; all that is needed are the few sums of inverse entries over the columns of h_m.
 */
function bestCandidate(context: RunContext, factor: number, offset: number, before: number): number {
  const { model, points, state, moments, allowed, work } = context;
  const size = model.columnCount;
  const functions = model.functions[factor] ?? [];
  const columns = model.functionColumns[factor] ?? [];
  const count = functions.length - 1;
  if (count === 0) return before;
  fillSlopes(context, factor, offset);
  const own = dot(work.row, work.solved, size);
  const ownWeighed = moments ? dot(work.row, work.weighed, size) : 0;
  const lines: number[] = [];
  const linesWeighed: number[] = [];
  const squares: number[] = [];
  const squaresWeighed: number[] = [];
  for (let m = 1; m <= count; m += 1) {
    const at = columns[m];
    lines.push(sparseDot(at, work.slopes, work.solved));
    if (moments) linesWeighed.push(sparseDot(at, work.slopes, work.weighed));
    for (let l = 1; l <= count; l += 1) {
      const other = columns[l];
      squares.push(sparseForm(state.inverse, size, at, other, work.slopes));
      if (moments) squaresWeighed.push(sparseForm(state.weighted, size, at, other, work.slopes));
    }
  }
  const candidates = functions[0]?.length ?? 0;
  let best = before;
  let most = moments ? LEAST_GAIN * state.trace : 1 + LEAST_GAIN;
  const step = new Float64Array(count);
  for (let candidate = 0; candidate < candidates; candidate += 1) {
    if (candidate === before) continue;
    let [line, square, lineWeighed, squareWeighed] = [0, 0, 0, 0];
    for (let m = 0; m < count; m += 1) {
      const values = functions[m + 1];
      step[m] = values[candidate] - values[before];
    }
    for (let m = 0; m < count; m += 1) {
      const by = step[m];
      if (by === 0) continue;
      line += by * lines[m];
      if (moments) lineWeighed += by * linesWeighed[m];
      for (let l = 0; l < count; l += 1) {
        square += by * step[l] * squares[m * count + l];
        if (moments) squareWeighed += by * step[l] * squaresWeighed[m * count + l];
      }
    }
    const mixed = own + line;
    const fresh = own + 2 * line + square;
    const ratio = (1 + fresh) * (1 - own) + mixed * mixed;
    let gain = ratio;
    if (moments) {
      if (!(ratio > 1e-6)) continue;
      const mixedWeighed = ownWeighed + lineWeighed;
      const freshWeighed = ownWeighed + 2 * lineWeighed + squareWeighed;
      gain = ((1 - own) * freshWeighed + 2 * mixed * mixedWeighed - (1 + fresh) * ownWeighed) / ratio;
    }
    if (gain <= most) continue;
    if (allowed) {
      points[offset + factor] = candidate;
      const fits = allowed(points, offset);
      points[offset + factor] = before;
      if (!fits) continue;
    }
    most = gain;
    best = candidate;
  }
  return best;
}

/** For each column in which the factor stands, the product of what the other factors put into it. */
function fillSlopes({ model, points, work }: RunContext, factor: number, offset: number): void {
  const own = model.columnFunction[factor];
  const { slopes } = work;
  for (let column = model.firstTerm; column < model.columnCount; column += 1) {
    if (own[column] === 0) continue;
    let product = 1;
    for (let other = 0; other < model.factors.length; other += 1) {
      if (other === factor) continue;
      const m = model.columnFunction[other]?.[column] ?? 0;
      if (m > 0) product *= model.functions[other]?.[m]?.[points[offset + other] ?? 0] ?? 0;
    }
    slopes[column] = product;
  }
}

/** Puts the new row in the place of the old one: two outer products on the inverse, and what follows for the weighted one. */
function applyExchange(state: InformationState, work: Workspace, weighed: boolean, size: number): void {
  const { row, solved, newRow, newSolved, weighed: oldWeighed, newWeighed } = work;
  const { inverse, weighted } = state;
  multiply(inverse, newRow, newSolved, size);
  const own = dot(row, solved, size);
  const fresh = dot(newRow, newSolved, size);
  const mixed = dot(row, newSolved, size);
  const ratio = (1 + fresh) * (1 - own) + mixed * mixed;
  const [a, b, c] = [(1 - own) / ratio, mixed / ratio, -(1 + fresh) / ratio];
  state.logDeterminant += Math.log(Math.max(ratio, Number.MIN_VALUE));
  if (weighed) {
    multiply(weighted, newRow, newWeighed, size);
    const newNew = dot(newRow, newWeighed, size);
    const newOld = dot(newRow, oldWeighed, size);
    const oldOld = dot(row, oldWeighed, size);
    state.trace -= a * newNew + 2 * b * newOld + c * oldOld;
    for (let i = 0; i < size; i += 1) {
      // P = inverse × [new, old] × Q⁻¹, row by row.
      const first = a * newSolved[i] + b * solved[i];
      const second = b * newSolved[i] + c * solved[i];
      for (let j = 0; j <= i; j += 1) {
        const otherFirst = a * newSolved[j] + b * solved[j];
        const otherSecond = b * newSolved[j] + c * solved[j];
        const value =
          weighted[i * size + j] -
          first * newWeighed[j] -
          second * oldWeighed[j] -
          otherFirst * newWeighed[i] -
          otherSecond * oldWeighed[i] +
          first * (newNew * otherFirst + newOld * otherSecond) +
          second * (newOld * otherFirst + oldOld * otherSecond);
        weighted[i * size + j] = value;
        weighted[j * size + i] = value;
      }
    }
  }
  for (let i = 0; i < size; i += 1) {
    const first = a * newSolved[i] + b * solved[i];
    const second = b * newSolved[i] + c * solved[i];
    for (let j = 0; j <= i; j += 1) {
      const value = inverse[i * size + j] - first * newSolved[j] - second * solved[j];
      inverse[i * size + j] = value;
      inverse[j * size + i] = value;
    }
  }
}

function multiply(matrix: Float64Array, vector: Float64Array, out: Float64Array, size: number): void {
  for (let i = 0; i < size; i += 1) {
    let sum = 0;
    const base = i * size;
    for (let j = 0; j < size; j += 1) sum += matrix[base + j] * vector[j];
    out[i] = sum;
  }
}

function dot(one: Float64Array, other: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i += 1) sum += one[i] * other[i];
  return sum;
}

function sparseDot(at: Int32Array, slopes: Float64Array, vector: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < at.length; i += 1) {
    const column = at[i];
    sum += slopes[column] * vector[column];
  }
  return sum;
}

function sparseForm(
  matrix: Float64Array,
  size: number,
  at: Int32Array,
  other: Int32Array,
  slopes: Float64Array,
): number {
  let sum = 0;
  for (let i = 0; i < at.length; i += 1) {
    const column = at[i];
    let inner = 0;
    for (let j = 0; j < other.length; j += 1) {
      const second = other[j];
      inner += slopes[second] * matrix[column * size + second];
    }
    sum += slopes[column] * inner;
  }
  return sum;
}
