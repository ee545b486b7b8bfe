/**
 * The second road of the least squares tests: plain, slow and exact. Doubles are fractions over a power of two, so normal equations in whole numbers of any
 * length lose nothing; only the last division to a double rounds.
 */
export interface RationalFit {
  readonly coefficients: readonly number[];
  /** Diagonal and the rest of (XᵀWX)⁻¹, row by row. */
  readonly inverseCross: readonly number[];
  readonly residualSumOfSquares: number;
}

/** Whole numbers over 2^shift. */
interface Fractions {
  readonly numerators: readonly bigint[];
  readonly shift: number;
}

export function fractions(values: ArrayLike<number>): Fractions {
  const list = Array.from(values);
  const shift = Math.max(0, ...list.map(binaryPlaces));
  return { numerators: list.map((value) => asWhole(value, shift)), shift };
}

export function toPower({ numerators, shift }: Fractions, power: number): Fractions {
  return { numerators: numerators.map((value) => value ** BigInt(power)), shift: shift * power };
}

export function rationalLeastSquares(
  columns: readonly Fractions[],
  response: Fractions,
  weights: Fractions = { numerators: response.numerators.map(() => 1n), shift: 0 },
): RationalFit {
  const p = columns.length;
  const cross = (a: Fractions, b: Fractions): bigint =>
    weights.numerators.reduce((sum, weight, i) => sum + weight * a.numerators[i] * b.numerators[i], 0n);
  const system = columns.map((a, i) => [
    ...columns.map((b) => cross(a, b)),
    cross(a, response),
    ...columns.map((_, j) => (i === j ? 1n : 0n)),
  ]);
  const determinant = eliminate(system, p);
  const scaled = system.map((row) => row[p]);
  const left = columns.reduce(
    (sum, column, k) => sum - scaled[k] * cross(column, response),
    determinant * cross(response, response),
  );
  return {
    coefficients: scaled.map((value, k) => ratio(value, determinant, columns[k].shift - response.shift)),
    inverseCross: columns.flatMap((a, i) =>
      columns.map((b, j) => ratio(system[i][p + 1 + j], determinant, a.shift + b.shift + weights.shift)),
    ),
    residualSumOfSquares: ratio(left, determinant, -2 * response.shift - weights.shift),
  };
}

/** Gauss and Jordan without fractions (Bareiss 1968): every division leaves no rest. Returns the determinant; the solution stands multiplied by it. */
function eliminate(system: bigint[][], p: number): bigint {
  let previous = 1n;
  for (let k = 0; k < p; k++) {
    const pivot = system[k][k];
    if (pivot === 0n) throw new Error("the exact matrix is singular");
    for (let i = 0; i < p; i++) {
      if (i === k) continue;
      const factor = system[i][k];
      system[i] = system[i].map((value, j) => (pivot * value - factor * system[k][j]) / previous);
    }
    previous = pivot;
  }
  return previous;
}

/** numerator / denominator · 2^exponent to the nearest double. */
function ratio(numerator: bigint, denominator: bigint, exponent: number): number {
  if (numerator === 0n) return 0;
  const negative = numerator < 0n !== denominator < 0n;
  const top = numerator < 0n ? -numerator : numerator;
  const bottom = denominator < 0n ? -denominator : denominator;
  const move = 70 - (bits(top) - bits(bottom));
  const quotient = move >= 0 ? (top << BigInt(move)) / bottom : top / (bottom << BigInt(-move));
  const size = Number(quotient) * 2 ** (exponent - move);
  return negative ? -size : size;
}

function bits(value: bigint): number {
  return value.toString(16).length * 4;
}

function binaryPlaces(value: number): number {
  let places = 0;
  while (!Number.isInteger(value * 2 ** places)) places++;
  return places;
}

function asWhole(value: number, shift: number): bigint {
  const places = binaryPlaces(value);
  return BigInt(value * 2 ** places) << BigInt(shift - places);
}
