import { numericsError, requireFinite } from "./error.ts";

export interface Minimum {
  readonly at: number;
  readonly value: number;
}

/** (3 − √5)/2, the share at which golden section cuts. */
const golden = (3 - Math.sqrt(5)) / 2;

/**
 * The least value of a function of one variable between two points, by golden section with parabolic steps. Where there are several minima it finds one.
 * `tolerance` (default 1e-8) is the relative width at which the search ends; as a function is flat at its minimum, less than about 1e-8 can't be told from its
 * values. A minimum at an end is approached within the tolerance.
 * Refused: a function that gives NaN.
 * Source: Brent 1973, Algorithms for Minimization without Derivatives, chapter 5.
 * Example: `brentMinimum((x) => (x - 2) ** 2, 0, 5).at` is 2 within 2e-8.
 */
export function brentMinimum(
  valueAt: (x: number) => number,
  from: number,
  to: number,
  options: { readonly tolerance?: number } = {},
): Minimum {
  const { tolerance = 1e-8 } = options;
  requireFinite("the lower end", from);
  requireFinite("the upper end", to);
  let low = Math.min(from, to);
  let high = Math.max(from, to);
  const least = 1e-12 * (high - low);
  let best = low + golden * (high - low);
  let atBest = checked(valueAt, best);
  let [second, third, atSecond, atThird] = [best, best, atBest, atBest];
  let step = 0;
  let stepBefore = 0;
  for (let iteration = 0; iteration < 500; iteration++) {
    const middle = (low + high) / 2;
    const enough = tolerance * Math.abs(best) + least;
    if (Math.abs(best - middle) <= 2 * enough - (high - low) / 2) break;
    const parabolic = parabolaStep(best, second, third, atBest, atSecond, atThird);
    const usable =
      Math.abs(parabolic) < Math.abs(stepBefore / 2) && best + parabolic > low && best + parabolic < high;
    stepBefore = usable ? step : best < middle ? high - best : low - best;
    step = usable ? parabolic : golden * stepBefore;
    if (usable && (best + step - low < 2 * enough || high - best - step < 2 * enough))
      step = best < middle ? enough : -enough;
    const next = best + (Math.abs(step) >= enough ? step : step > 0 ? enough : -enough);
    const atNext = checked(valueAt, next);
    if (atNext <= atBest) {
      if (next < best) high = best;
      else low = best;
      [third, atThird, second, atSecond, best, atBest] = [second, atSecond, best, atBest, next, atNext];
    } else {
      if (next < best) low = next;
      else high = next;
      if (atNext <= atSecond || second === best)
        [third, atThird, second, atSecond] = [second, atSecond, next, atNext];
      else if (atNext <= atThird || third === best || third === second) [third, atThird] = [next, atNext];
    }
  }
  return { at: best, value: atBest };
}

/** From the best point to the foot of the parabola through three; Infinity where they lie on a line. */
function parabolaStep(x: number, w: number, v: number, atX: number, atW: number, atV: number): number {
  const r = (x - w) * (atX - atV);
  const q = (x - v) * (atX - atW);
  const p = (x - v) * q - (x - w) * r;
  const divisor = 2 * (r - q);
  return divisor === 0 ? Infinity : p / divisor;
}

function checked(valueAt: (x: number) => number, x: number): number {
  const value = valueAt(x);
  if (Number.isNaN(value))
    throw numericsError(`a function that is NaN at ${x}`, "a number at every point of the search");
  return value;
}
