import { hadamard, type SignMatrix } from "../algebra/hadamard.ts";
import type { SeededRandom } from "../../numerics/index.ts";

/**
 * Largest known determinants of n × n matrices of −1 and +1 where no Hadamard matrix exists (published table of maximal
 * determinants, from memory; none passes the bounds of Barba and of Ehlich and Wojtas). A search that reaches one stops.
 */
const LARGEST: Readonly<Record<number, number>> = {
  3: 4,
  5: 48,
  6: 160,
  7: 576,
  9: 14336,
  10: 73728,
  11: 327680,
  13: 14929920,
  14: 77635584,
  15: 418037760,
  17: 21474836480,
  18: 146028888064,
  19: 894426939392,
  21: 59392000000000,
};

/** Sizes beyond are left to the coordinate exchange. */
const MOST_SIZE = 24;
/** Climbs after which the best so far is taken; the largest determinants up to 21 took 7000 at most in trials. */
const MOST_CLIMBS = 30_000;
/** Entries turned before each new climb, climbs without gain before a fresh start, and how readily a worse one is kept. */
const [TURNS, PATIENCE, HEAT] = [10, 60, 0.1];

/**
 * A matrix of −1 and +1 of largest determinant, first column +1: the best saturated layout of main effects. By Hadamard's
 * construction where the order allows; else rows and columns are in turn given the signs of their cofactors, which is the
 * best that they can have while the others stand, and some entries are turned when nothing gains any more.
 */
export function largestDeterminant(size: number, random: SeededRandom): SignMatrix | undefined {
  const known = hadamard(size);
  if (known) return known;
  if (size < 3 || size > MOST_SIZE) return undefined;
  const target = Math.log(LARGEST[size] ?? Number.POSITIVE_INFINITY) - 1e-6;
  let best: Float64Array | undefined;
  let bestLog = Number.NEGATIVE_INFINITY;
  for (let climbs = 0; climbs < MOST_CLIMBS && bestLog < target;) {
    let matrix = Float64Array.from({ length: size * size }, () => (random.integer(2) === 0 ? -1 : 1));
    let current = Number.NEGATIVE_INFINITY;
    for (let stale = 0; stale < PATIENCE && climbs < MOST_CLIMBS && bestLog < target; climbs += 1) {
      const turned = Float64Array.from(matrix);
      if (current > Number.NEGATIVE_INFINITY) turn(turned, random);
      const found = climb(turned, size);
      if (found >= current - 1e-9 || random.next() < Math.exp((found - current) / HEAT)) {
        matrix = turned;
        current = found;
      }
      stale += 1;
      if (found > bestLog + 1e-9) {
        best = turned;
        bestLog = found;
        stale = 0;
      }
    }
  }
  return best && rowsWithPositiveFirst(best, size);
}

function turn(matrix: Float64Array, random: SeededRandom): void {
  for (let turns = 0; turns < TURNS; turns += 1) {
    const at = random.integer(matrix.length);
    matrix[at] = 0 - (matrix[at] ?? 0);
  }
}

function rowsWithPositiveFirst(matrix: Float64Array, size: number): SignMatrix {
  return Array.from({ length: size }, (_, row) => {
    const sign = matrix[row * size] ?? 1;
    return Array.from({ length: size }, (_unused, column) => sign * (matrix[row * size + column] ?? 0));
  });
}

/** Gives rows and columns the signs of their cofactors until none gains; changes the matrix, returns log |determinant|. */
function climb(matrix: Float64Array, size: number): number {
  const inverse = new Float64Array(size * size);
  let log = inverted(matrix, inverse, size);
  if (log === Number.NEGATIVE_INFINITY) return log;
  const step = new Float64Array(size);
  const moved = new Float64Array(size);
  for (let turnIndex = 0, since = 0; since < 2 * size; turnIndex += 1) {
    const line = turnIndex % size;
    const byRow = Math.floor(turnIndex / size) % 2 === 0;
    const cofactor = (k: number) => inverse[byRow ? k * size + line : line * size + k];
    let gain = 0;
    for (let k = 0; k < size; k += 1) gain += Math.abs(cofactor(k));
    if (!(gain > 1 + 1e-9)) {
      since += 1;
      continue;
    }
    since = 0;
    for (let k = 0; k < size; k += 1) {
      const at = byRow ? line * size + k : k * size + line;
      const before = matrix[at];
      // A cofactor of 0 is indifferent; rounding must not turn it.
      const after = Math.abs(cofactor(k)) < 1e-12 ? before : Math.sign(cofactor(k));
      step[k] = after - before;
      matrix[at] = after;
    }
    update(inverse, step, moved, line, byRow, size);
    log += Math.log(gain);
  }
  return log;
}

/** Sherman–Morrison for one changed row or column. */
function update(
  inverse: Float64Array,
  step: Float64Array,
  moved: Float64Array,
  line: number,
  byRow: boolean,
  size: number,
): void {
  for (let i = 0; i < size; i += 1) {
    let sum = 0;
    for (let k = 0; k < size; k += 1) sum += step[k] * inverse[byRow ? k * size + i : i * size + k];
    moved[i] = sum;
  }
  const scale = 1 / (1 + moved[line]);
  const fixed = Float64Array.from(
    { length: size },
    (_, k) => inverse[byRow ? k * size + line : line * size + k],
  );
  for (let i = 0; i < size; i += 1) {
    const left = byRow ? fixed[i] : moved[i];
    if (left === 0) continue;
    for (let j = 0; j < size; j += 1) {
      const at = i * size + j;
      inverse[at] = inverse[at] - scale * left * (byRow ? moved[j] : fixed[j]);
    }
  }
}

/** Gauss–Jordan with row pivoting into `inverse`; log |determinant|, or −∞ where it is 0. */
function inverted(matrix: Float64Array, inverse: Float64Array, size: number): number {
  const rest = Float64Array.from(matrix);
  for (let i = 0; i < size; i += 1) inverse[i * size + i] = 1;
  let log = 0;
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1) {
      if (Math.abs(rest[row * size + column]) > Math.abs(rest[pivot * size + column])) pivot = row;
    }
    const lead = rest[pivot * size + column];
    // Determinants are whole numbers times 2^(n−1): a pivot this small is 0.
    if (Math.abs(lead) < 1e-9) return Number.NEGATIVE_INFINITY;
    log += Math.log(Math.abs(lead));
    for (let j = 0; j < size; j += 1) {
      swap(rest, column * size + j, pivot * size + j);
      swap(inverse, column * size + j, pivot * size + j);
      rest[column * size + j] = rest[column * size + j] / lead;
      inverse[column * size + j] = inverse[column * size + j] / lead;
    }
    for (let row = 0; row < size; row += 1) {
      const share = rest[row * size + column];
      if (row === column || share === 0) continue;
      for (let j = 0; j < size; j += 1) {
        rest[row * size + j] = rest[row * size + j] - share * rest[column * size + j];
        inverse[row * size + j] = inverse[row * size + j] - share * inverse[column * size + j];
      }
    }
  }
  return log;
}

function swap(list: Float64Array, one: number, other: number): void {
  const kept = list[one];
  list[one] = list[other];
  list[other] = kept;
}
