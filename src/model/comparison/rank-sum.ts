import { normalTail } from "../../numerics/index.ts";

/** Two samples of up to this many values in all are judged by counting; larger ones by the normal approximation. */
const mostCounted = 60;

/** Two samples compared by ranks. */
export interface RankSum {
  /** Hodges and Lehmann: the median of all differences `to` less `from`. */
  readonly shift: number;
  /** Null where no interval of the confidence can be had from so few runs. */
  readonly interval: readonly [number, number] | null;
  /** Two-sided. */
  readonly p: number;
  /** The highest confidence that an interval of these runs can have. */
  readonly mostConfidence: number;
  readonly exact: boolean;
  readonly ties: boolean;
}

/**
 * Two samples compared by their ranks (Wilcoxon 1945; Mann and Whitney 1947), with the shift between them and its interval (Hodges and
 * Lehmann 1963, Annals of Mathematical Statistics 34, 598–611). Up to 60 values in all by counting every way to share out the ranks, with ties by
 * counting too; beyond by the normal approximation with correction for continuity and ties. With ties the interval is at least as sure as stated.
 * Example: 1, 2, 3 against 4, 5, 6, 7: shift 3.5, p 2/35.
 */
export function rankSum(from: readonly number[], to: readonly number[], confidence: number): RankSum {
  const differences = to.flatMap((value) => from.map((other) => value - other)).sort((a, b) => a - b);
  const pairs = differences.length;
  const shift = (differences[Math.floor((pairs - 1) / 2)] + differences[Math.ceil((pairs - 1) / 2)]) / 2;
  const total = from.length + to.length;
  const { doubled, ties } = doubledMidranks([...from, ...to]);
  const observed = doubled.slice(from.length).reduce((sum, rank) => sum + rank, 0);
  const exact = total <= mostCounted;
  const steps = exact
    ? stepsInside(from.length, to.length, (1 - confidence) / 2)
    : approximateSteps(from.length, to.length, (1 - confidence) / 2);
  return {
    shift,
    interval: steps < 1 ? null : [differences[steps - 1], differences[pairs - steps]],
    p: exact ? countedP(doubled, to.length, observed) : approximateP(doubled, to.length, observed),
    mostConfidence: 1 - 2 / binomial(total, to.length),
    exact,
    ties,
  };
}

/** Twice the ranks, which ties share, so that all are whole. */
export function doubledMidranks(values: readonly number[]): {
  readonly doubled: readonly number[];
  readonly ties: boolean;
} {
  const order = values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
  const doubled = new Array<number>(values.length);
  let ties = false;
  for (let start = 0; start < order.length;) {
    let end = start;
    while (end + 1 < order.length && values[order[end + 1]] === values[order[start]]) end++;
    for (let k = start; k <= end; k++) doubled[order[k]] = start + end + 2;
    ties ||= end > start;
    start = end + 1;
  }
  return { doubled, ties };
}

/** How many of the ways to choose `size` of the ranks have each sum; shares of all ways. */
function sumShares(ranks: readonly number[], size: number): readonly number[] {
  const most = ranks.reduce((sum, rank) => sum + rank, 0);
  const ways: Float64Array[] = Array.from({ length: size + 1 }, () => new Float64Array(most + 1));
  ways[0][0] = 1;
  ranks.forEach((rank, seen) => {
    for (let count = Math.min(size, seen + 1); count >= 1; count--) {
      const [less, more] = [ways[count - 1], ways[count]];
      for (let sum = most; sum >= rank; sum--) more[sum] += less[sum - rank];
    }
  });
  const all = binomial(ranks.length, size);
  return Array.from(ways[size], (count) => count / all);
}

function countedP(doubled: readonly number[], size: number, observed: number): number {
  const shares = sumShares(doubled, size);
  let [below, above] = [0, 0];
  shares.forEach((share, sum) => {
    if (sum <= observed) below += share;
    if (sum >= observed) above += share;
  });
  return Math.min(1, 2 * Math.min(below, above));
}

/** How far in from either end the differences may be cut: the largest k with P(fewer than k pairs the other way) ≤ tail. */
function stepsInside(one: number, other: number, tail: number): number {
  const ranks = Array.from({ length: one + other }, (_, i) => i + 1);
  const shares = sumShares(ranks, other);
  const least = (other * (other + 1)) / 2;
  let total = 0;
  for (let k = 0; k <= one * other; k++) {
    total += shares[least + k];
    if (total > tail) return k;
  }
  return 0;
}

function approximateSteps(one: number, other: number, tail: number): number {
  const centre = (one * other) / 2;
  const sd = Math.sqrt((one * other * (one + other + 1)) / 12);
  let k = Math.floor(centre);
  while (k > 0 && normalTail((centre - (k - 1) - 0.5) / sd) > tail) k--;
  return k;
}

function approximateP(doubled: readonly number[], size: number, observed: number): number {
  const total = doubled.length;
  const centre = (size * (total + 1)) / 2;
  const mean = (total + 1) / 2;
  const spread = doubled.reduce((sum, rank) => sum + (rank / 2 - mean) ** 2, 0) / (total - 1);
  const sd = Math.sqrt((size * (total - size) * spread) / total);
  if (!(sd > 0)) return 1;
  const off = Math.max(0, Math.abs(observed / 2 - centre) - 0.5);
  return Math.min(1, 2 * normalTail(off / sd));
}

function binomial(n: number, k: number): number {
  let ways = 1;
  for (let i = 1; i <= Math.min(k, n - k); i++) ways = (ways * (n - i + 1)) / i;
  return Math.round(ways);
}
