import { numericsError } from "./error.ts";
import { requireNumber } from "./probability-checks.ts";

/** An integral with a bound on its error that is usually far too large; `reached` says whether it meets the tolerance asked for. */
export interface Integral {
  readonly value: number;
  readonly error: number;
  readonly reached: boolean;
}

/**
 * Gauss and Kronrod's pair of 10 and 21 points on (−1, 1), the positive half: place, weight among 21, weight among 10. Recomputed from Legendre's and Stieltjes'
 * polynomials with 60 digits.
 */
const points: readonly (readonly [number, number, number])[] = [
  [0, 0.1494455540029169, 0],
  [0.14887433898163122, 0.14773910490133849, 0.29552422471475287],
  [0.2943928627014602, 0.14277593857706009, 0],
  [0.4333953941292472, 0.13470921731147334, 0.26926671930999635],
  [0.5627571346686047, 0.12349197626206584, 0],
  [0.6794095682990244, 0.10938715880229764, 0.21908636251598204],
  [0.7808177265864169, 0.0931254545836976, 0],
  [0.8650633666889845, 0.07503967481091996, 0.1494513491505806],
  [0.9301574913557082, 0.054755896574351995, 0],
  [0.9739065285171717, 0.032558162307964725, 0.06667134430868814],
  [0.9956571630258081, 0.011694638867371874, 0],
];

interface Piece {
  readonly from: number;
  readonly to: number;
  readonly value: number;
  readonly error: number;
}

/**
 * Integral of a function over an interval, whose ends may be infinite: the piece with the largest error is halved until all errors together are below
 * max(absoluteTolerance, relativeTolerance × |value|) (defaults 0 and 1e-10), at most `mostPieces` (500) times. Ends themselves are never asked for, so a mild
 * singularity at an end is no harm.
 * Refused: a function that is not finite inside.
 * Source: Piessens, de Doncker-Kapenga, Überhuber and Kahaner 1983, QUADPACK.
 * Example: `integrate((x) => Math.exp(-x * x), -Infinity, Infinity).value` is √π, 1.7724538509055.
 */
export function integrate(
  valueAt: (x: number) => number,
  from: number,
  to: number,
  options: {
    readonly relativeTolerance?: number;
    readonly absoluteTolerance?: number;
    readonly mostPieces?: number;
  } = {},
): Integral {
  const { relativeTolerance = 1e-10, absoluteTolerance = 0, mostPieces = 500 } = options;
  requireNumber("the lower end", from);
  requireNumber("the upper end", to);
  if (from === to) return { value: 0, error: 0, reached: true };
  if (from > to) {
    const turned = integrate(valueAt, to, from, options);
    return { ...turned, value: -turned.value };
  }
  const { integrand, low, high } = onFiniteInterval(valueAt, from, to);
  const pieces = [onePiece(integrand, low, high)];
  for (;;) {
    const value = pieces.reduce((sum, piece) => sum + piece.value, 0);
    const error = pieces.reduce((sum, piece) => sum + piece.error, 0);
    const reached = error <= Math.max(absoluteTolerance, relativeTolerance * Math.abs(value));
    if (reached || pieces.length >= mostPieces) return { value, error, reached };
    const worst = pieces.reduce((at, piece, i) => (piece.error > pieces[at].error ? i : at), 0);
    const { from: a, to: b } = pieces[worst];
    const middle = a + (b - a) / 2;
    if (middle <= a || middle >= b) return { value, error, reached };
    pieces.splice(worst, 1, onePiece(integrand, a, middle), onePiece(integrand, middle, b));
  }
}

/** x = t/(1 − t²) or a ± t/(1 − t) bring an infinite interval to a finite one. */
function onFiniteInterval(
  valueAt: (x: number) => number,
  from: number,
  to: number,
): { integrand: (t: number) => number; low: number; high: number } {
  if (Number.isFinite(from) && Number.isFinite(to)) return { integrand: valueAt, low: from, high: to };
  if (Number.isFinite(from) || Number.isFinite(to)) {
    const end = Number.isFinite(from) ? from : to;
    const side = Number.isFinite(from) ? 1 : -1;
    const integrand = (t: number): number => valueAt(end + (side * t) / (1 - t)) / (1 - t) ** 2;
    return { integrand, low: 0, high: 1 };
  }
  const integrand = (t: number): number => {
    const rest = 1 - t * t;
    return (valueAt(t / rest) * (1 + t * t)) / (rest * rest);
  };
  return { integrand, low: -1, high: 1 };
}

function onePiece(integrand: (x: number) => number, from: number, to: number): Piece {
  const half = (to - from) / 2;
  const middle = from + half;
  let fine = 0;
  let coarse = 0;
  let size = 0;
  for (const [place, weight, coarseWeight] of points) {
    const above = checked(integrand, middle + half * place);
    const below = place === 0 ? 0 : checked(integrand, middle - half * place);
    fine += weight * (above + below);
    coarse += coarseWeight * (above + below);
    size += weight * (Math.abs(above) + Math.abs(below));
  }
  // The difference bounds the coarse rule's error; the fine one's is far smaller. Rounding of the sum itself is the floor.
  const difference = Math.abs(half * (fine - coarse));
  const scale = Math.abs(half) * size;
  const error = scale === 0 ? difference : scale * Math.min(1, (200 * difference) / scale) ** 1.5;
  return { from, to, value: half * fine, error: Math.max(error, 2 ** -52 * scale) };
}

function checked(integrand: (x: number) => number, x: number): number {
  const value = integrand(x);
  if (!Number.isFinite(value))
    throw numericsError(`an integrand that is ${value} at ${x}`, "a finite number");
  return value;
}
