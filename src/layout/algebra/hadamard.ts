import { galoisField, primePower, quadraticCharacter } from "./galois-field.ts";

export type SignMatrix = readonly (readonly number[])[];

/**
 * A square matrix of −1 and +1 whose columns are at right angles (Hadamard), its last row all −1 but for a first column of
 * +1; undefined where no construction here reaches the order. Constructions, in order of preference: quadratic residues
 * (Paley 1933, first kind; for a prime this is the cyclic table of Plackett and Burman, Biometrika 33, 1946), Paley's second
 * kind, doubling (Sylvester).
 */
export function hadamard(order: number): SignMatrix | undefined {
  if (order === 1) return [[1]];
  if (order === 2)
    return [
      [1, 1],
      [1, -1],
    ];
  if (order % 4 !== 0) return undefined;
  const matrix = firstPaley(order) ?? secondPaley(order) ?? doubled(order);
  return matrix && normalised(matrix);
}

/** q = order − 1, a prime power that leaves 3 on division by 4. */
function firstPaley(order: number): SignMatrix | undefined {
  const size = order - 1;
  if (size % 4 !== 3 || !primePower(size)) return undefined;
  const field = galoisField(size);
  const character = quadraticCharacter(field);
  const rows = Array.from({ length: size }, (_, row) => [
    1,
    ...Array.from({ length: size }, (_unused, column) => character[field.subtract(column, row)] || 1),
  ]);
  return [...rows, [1, ...new Array<number>(size).fill(-1)]];
}

/** order = 2(q + 1), q a prime power that leaves 1 on division by 4: entries of a symmetric conference matrix become 2 × 2 blocks. */
function secondPaley(order: number): SignMatrix | undefined {
  const size = order / 2 - 1;
  if (size % 4 !== 1 || !primePower(size)) return undefined;
  const conference = paleyConference(size + 1);
  if (!conference) return undefined;
  return Array.from({ length: order }, (_, row) =>
    Array.from({ length: order }, (_unused, column) => {
      const entry = conference[row >> 1]?.[column >> 1] ?? 0;
      const [lower, right] = [row & 1, column & 1];
      if (entry === 0) return lower === 0 && right === 0 ? 1 : -1;
      return entry * (lower === 1 && right === 1 ? -1 : 1);
    }),
  );
}

function doubled(order: number): SignMatrix | undefined {
  const half = hadamard(order / 2);
  if (!half) return undefined;
  return [
    ...half.map((row) => [...row, ...row]),
    ...half.map((row) => [...row, ...row.map((value) => -value)]),
  ];
}

/** First column +1 throughout, and the row that has most −1s put last with its signs turned so that the others are −1. */
function normalised(matrix: SignMatrix): SignMatrix {
  const last = matrix[matrix.length - 1] ?? [];
  const columns = last.map((value, column) => (column === 0 ? 1 : value === -1 ? 1 : -1));
  const turned = matrix.map((row) => row.map((value, column) => value * (columns[column] ?? 1)));
  return turned.map((row) => (row[0] === 1 ? row : row.map((value) => -value)));
}

/**
 * A conference matrix by Paley's construction, order q + 1, q an odd prime power: zero diagonal, ±1 elsewhere,
 * C′C = (order − 1)·I; symmetric where q leaves 1 on division by 4, else skew. Undefined for other orders.
 */
export function paleyConference(order: number): SignMatrix | undefined {
  const size = order - 1;
  if (size < 3 || size % 2 === 0 || !primePower(size)) return undefined;
  const field = galoisField(size);
  const character = quadraticCharacter(field);
  const skew = size % 4 === 3;
  const first = [0, ...new Array<number>(size).fill(1)];
  const rows = Array.from({ length: size }, (_, row) => [
    skew ? -1 : 1,
    ...Array.from({ length: size }, (_unused, column) => character[field.subtract(column, row)] ?? 0),
  ]);
  return [first, ...rows];
}

/** A conference matrix of that order: Paley's, or a skew one of half the order doubled. Undefined where neither reaches it. */
export function conference(order: number): SignMatrix | undefined {
  const paley = paleyConference(order);
  if (paley) return paley;
  if (order % 8 !== 0) return undefined;
  const half = paleyConference(order / 2);
  if (!half || (order / 2 - 1) % 4 !== 3) return undefined;
  // [C, C + I; C − I, −C] is skew again, by C′ = −C and CC′ = (n − 1)·I.
  const shifted = (by: number) => half.map((row, i) => row.map((value, j) => value + (i === j ? by : 0)));
  const [plus, minus] = [shifted(1), shifted(-1)];
  return [
    ...half.map((row, i) => [...row, ...(plus[i] ?? [])]),
    ...half.map((row, i) => [...(minus[i] ?? []), ...row.map((value) => 0 - value)]),
  ];
}
