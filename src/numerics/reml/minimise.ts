import { criterionAt, type Criterion } from "./criterion.ts";
import type { ReducedSystem } from "./reduced-system.ts";
import { choleskyFactor, choleskySolve } from "./small-symmetric.ts";

/** multiples · variances = 0, or the variance of one source held. */
export type Held =
  | { readonly kind: "share"; readonly source: number; readonly share: number }
  | { readonly kind: "variance"; readonly source: number };

export interface Minimised {
  readonly at: Criterion;
  readonly converged: boolean;
  /** What one more step would lower the deviance by: the measure of convergence. */
  readonly decrement: number;
  readonly iterations: number;
  /** True where the residual variance runs to zero: the rows are met exactly by the sources. */
  readonly residualVanishes: boolean;
}

/** A residual variance below this share of the whole counts as none: 1e-12 of the scatter is rounding of the readings. */
const vanishing = 1e-12;
/** A step that promises less deviance than this is as good as none; statistics can't tell a deviance of 1e-6. */
const enough = 1e-18;

/**
 * The least deviance over variances of zero or more from a start, under one held linear relation where asked: Newton's method with an active set of zero
 * variances; where the Hessian is not positive definite, scoring by the expected one. A zero is reached exactly and left only if the gradient says so.
 * Source: Gill, Murray and Wright 1981, Practical Optimization, 5.2; Jennrich and Sampson 1976, Technometrics 18, 11–17.
 */
export function minimise(system: ReducedSystem, start: Float64Array, held?: Held): Minimised {
  const size = start.length;
  const relation = relationOf(held, size);
  let at = criterionAt(system, start);
  const zero = Array.from(start, (value, i) => value === 0 && i < size - 1);
  let decrement = Infinity;
  let residualVanishes = false;
  let iterations = 0;
  for (; iterations < 200; iterations++) {
    const free = zero.flatMap((isZero, i) => (isZero ? [] : [i]));
    const { step, multiplier } = stepOf(at, free, relation);
    const before = decrement;
    decrement = -free.reduce((total, i, k) => total + at.gradient[i] * step[k], 0);
    const settled = decrement <= enough || (decrement < 1e-10 && decrement >= before / 4);
    if (settled) {
      const release = worstZero(at, zero, relation, multiplier, held?.source ?? -1);
      if (release < 0) break;
      zero[release] = false;
      decrement = Infinity;
      continue;
    }
    const moved = lineSearch(system, at, free, step, decrement);
    if (moved === null) break;
    at = moved.at;
    if (moved.blocked >= 0) {
      zero[moved.blocked] = true;
      decrement = Infinity;
    }
    const { variances } = at;
    if (variances[size - 1] < vanishing * variances.reduce((total, value) => total + value, 0)) {
      residualVanishes = true;
      break;
    }
  }
  return { at, decrement, iterations, residualVanishes, converged: !residualVanishes && decrement < 1e-8 };
}

/** The multiples of the held relation; null where nothing is held. */
function relationOf(held: Held | undefined, size: number): Float64Array | null {
  if (held === undefined) return null;
  const multiples = new Float64Array(size);
  if (held.kind === "share") multiples.fill(-held.share);
  multiples[held.source] = held.kind === "share" ? 1 - held.share : 1;
  return multiples;
}

function stepOf(
  at: Criterion,
  free: readonly number[],
  relation: Float64Array | null,
): { readonly step: Float64Array; readonly multiplier: number } {
  const size = at.gradient.length;
  const m = free.length;
  const part = (matrix: Float64Array): Float64Array =>
    Float64Array.from({ length: m * m }, (_, k) => matrix[free[Math.floor(k / m)] * size + free[k % m]]);
  const right = free.map((i) => -at.gradient[i]);
  const expected = part(at.expected);
  const factor = choleskyFactor(part(at.observed), m) ?? choleskyFactor(expected, m) ?? ridged(expected, m);
  const plain = choleskySolve(factor, m, right);
  if (relation === null) return { step: plain, multiplier: 0 };
  const across = choleskySolve(
    factor,
    m,
    free.map((i) => relation[i]),
  );
  let inner = 0;
  let outer = 0;
  free.forEach((i, k) => {
    inner += relation[i] * plain[k];
    outer += relation[i] * across[k];
  });
  const multiplier = outer > 0 ? inner / outer : 0;
  return { step: plain.map((value, k) => value - multiplier * across[k]), multiplier };
}

/** Where even the expected Hessian is flat in some direction: a ridge keeps the step finite. */
function ridged(matrix: Float64Array, size: number): Float64Array {
  for (let ridge = 1e-8; ; ridge *= 10) {
    const raised = matrix.slice();
    for (let i = 0; i < size; i++)
      raised[i * size + i] = raised[i * size + i] * (1 + ridge) + Number.MIN_VALUE;
    const factor = choleskyFactor(raised, size);
    if (factor !== null) return factor;
  }
}

/** The zero variance whose rise lowers the deviance fastest, on the scale of its own information; −1 where none does. */
function worstZero(
  at: Criterion,
  zero: readonly boolean[],
  relation: Float64Array | null,
  multiplier: number,
  held: number,
): number {
  const size = zero.length;
  let worst = -1;
  let most = 1e-9;
  zero.forEach((isZero, i) => {
    if (!isZero || i === held) return;
    const slope = at.gradient[i] + multiplier * (relation?.[i] ?? 0);
    const own = at.expected[i * size + i];
    const gain = -slope / Math.sqrt(own > 0 ? own : 1);
    if (gain > most) {
      most = gain;
      worst = i;
    }
  });
  return worst;
}

function lineSearch(
  system: ReducedSystem,
  at: Criterion,
  free: readonly number[],
  step: Float64Array,
  decrement: number,
): { readonly at: Criterion; readonly blocked: number } | null {
  const residual = at.variances.length - 1;
  let reach = 1;
  let blocked = -1;
  free.forEach((i, k) => {
    if (!(step[k] < 0)) return;
    // The residual's variance may shrink to a tenth at most: zero is no place to stand.
    const room = ((i === residual ? 0.9 : 1) * at.variances[i]) / -step[k];
    if (room < reach) {
      reach = room;
      blocked = i;
    }
  });
  for (let halving = 0; halving < 60; halving++) {
    const length = reach * 0.5 ** halving;
    const variances = at.variances.slice();
    free.forEach((i, k) => (variances[i] = Math.max(0, at.variances[i] + length * step[k])));
    const stopped = halving === 0 && blocked >= 0 && blocked !== residual;
    if (stopped) variances[blocked] = 0;
    const next = criterionAt(system, variances);
    // Near the minimum the promised fall drowns in the rounding of the deviance, and the step is right without a test.
    const drowned = decrement < 1e-9;
    if (
      Number.isFinite(next.deviance) &&
      (drowned || next.deviance <= at.deviance - 1e-4 * length * decrement)
    )
      return { at: next, blocked: stopped ? blocked : -1 };
    if (length * decrement < 1e-13 * (1 + Math.abs(at.deviance))) return null;
  }
  return null;
}
