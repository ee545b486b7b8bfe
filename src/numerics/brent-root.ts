import { numericsError } from "./error.ts";

/**
 * A zero of a continuous function between two points at which its signs differ: Brent's method, which is as fast as inverse quadratic interpolation where the
 * function is smooth and as sure as bisection elsewhere. Ends when the bracket is narrower than `tolerance` + 4.4e-16·|x| (default tolerance 0: to the last digit).
 * Refused: a function that has the same sign at both ends, or that gives NaN.
 * Source: Brent 1973, Algorithms for Minimization without Derivatives, chapter 4.
 * Example: `brentRoot((x) => x * x - 2, 0, 2)` is 1.4142135623730951 within 4e-16.
 */
export function brentRoot(
  valueAt: (x: number) => number,
  from: number,
  to: number,
  options: { readonly tolerance?: number } = {},
): number {
  const { tolerance = 0 } = options;
  let a = from;
  let b = to;
  let atA = checked(valueAt, a);
  let atB = checked(valueAt, b);
  if (atA === 0) return a;
  if (atB === 0) return b;
  if (atA > 0 === atB > 0)
    throw numericsError(
      `a function that is ${atA} at ${a} and ${atB} at ${b}`,
      "values of different sign at both ends of the search",
    );
  let c = a;
  let atC = atA;
  let step = b - a;
  let lastStep = step;
  // Bisection alone would need at most about 2100 halvings to part any two doubles.
  for (let iteration = 0; iteration < 5000; iteration++) {
    if (Math.abs(atC) < Math.abs(atB)) {
      a = b;
      b = c;
      c = a;
      atA = atB;
      atB = atC;
      atC = atA;
    }
    const enough = 2 * Number.EPSILON * Math.abs(b) + 0.5 * tolerance;
    const middle = 0.5 * (c - b);
    if (Math.abs(middle) <= enough || atB === 0) return b;
    if (Math.abs(lastStep) < enough || Math.abs(atA) <= Math.abs(atB)) {
      step = middle;
      lastStep = middle;
    } else {
      const trial = interpolated(a, b, c, atA, atB, atC, middle);
      if (
        trial !== undefined &&
        Math.abs(2 * trial) < Math.min(3 * Math.abs(middle) - enough, Math.abs(lastStep))
      ) {
        lastStep = step;
        step = trial;
      } else {
        step = middle;
        lastStep = middle;
      }
    }
    a = b;
    atA = atB;
    b += Math.abs(step) > enough ? step : Math.sign(middle) * enough;
    atB = checked(valueAt, b);
    if (atB > 0 === atC > 0) {
      c = a;
      atC = atA;
      step = b - a;
      lastStep = step;
    }
  }
  return b;
}

/** Secant step, or inverse quadratic through three points; undefined where it would leave the bracket. */
function interpolated(
  a: number,
  b: number,
  c: number,
  atA: number,
  atB: number,
  atC: number,
  middle: number,
): number | undefined {
  const s = atB / atA;
  const q = atA / atC;
  const r = atB / atC;
  const [p, divisor] =
    a === c
      ? [2 * middle * s, 1 - s]
      : [s * (2 * middle * q * (q - r) - (b - a) * (r - 1)), (q - 1) * (r - 1) * (s - 1)];
  const step = p > 0 ? p / -divisor : -p / divisor;
  return step * middle > 0 && Number.isFinite(step) ? step : undefined;
}

function checked(valueAt: (x: number) => number, x: number): number {
  const value = valueAt(x);
  if (Number.isNaN(value))
    throw numericsError(`a function that is NaN at ${x}`, "a number at every point of the search");
  return value;
}
