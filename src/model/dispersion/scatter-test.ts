import { chiSquareTail, fTail, mean, variance } from "../../numerics/index.ts";
import { formatNumber } from "../../units/index.ts";
import { pText } from "../words.ts";

/** Whether several groups scatter alike. */
export interface UnequalScatter {
  /** Distances from the group's median compared by an analysis of variance (Levene; Brown and Forsythe); null where a group has fewer than three runs. */
  readonly byMedians: {
    readonly f: number;
    readonly df: number;
    readonly dfScatter: number;
    readonly p: number;
  } | null;
  /** Bartlett's likelihood ratio, which takes the scatter to be normal; null where a group reads the same every time. */
  readonly byVariances: { readonly statistic: number; readonly df: number; readonly p: number } | null;
  /** Largest standard deviation over the smallest; null where the smallest is zero. */
  readonly ratio: number | null;
  /** The test that `evidence` rests on: by medians with five runs a group or more, where it has power, else by variances. */
  readonly p: number | null;
  /** True where p is below 0.05. */
  readonly evidence: boolean;
  readonly text: string;
}

/**
 * Tests whether groups of runs scatter alike: by distances from the medians (Brown and Forsythe 1974, Journal of the American Statistical
 * Association 69, 364–367), which holds for most shapes, and by the likelihood ratio of the variances (Bartlett 1937, Proceedings of the
 * Royal Society A 160, 268–282), which needs normal scatter but works from two runs a group. Groups of one run say nothing and are left out; null where
 * fewer than two groups remain.
 * Example: ten batches of ten gear diameters (NIST/SEMATECH e-Handbook 1.3.5.7 and 1.3.5.10) give 20.786 by variances and 1.706 by medians.
 */
export function unequalScatter(groups: readonly (readonly number[])[]): UnequalScatter | null {
  const used = groups.filter((group) => group.length >= 2);
  if (used.length < 2) return null;
  const deviations = used.map((group) => Math.sqrt(variance([...group])));
  const [least, most] = [Math.min(...deviations), Math.max(...deviations)];
  if (most === 0) return null;
  const medians = byMedians(used);
  const variances = least > 0 ? byVariances(used) : null;
  const enough = used.every((group) => group.length >= 5);
  const p = (enough ? (medians?.p ?? variances?.p) : (variances?.p ?? medians?.p)) ?? null;
  const ratio = least > 0 ? most / least : null;
  return {
    byMedians: medians,
    byVariances: variances,
    ratio,
    p,
    evidence: p !== null && p < 0.05,
    text: inWords(ratio, p),
  };
}

function byMedians(groups: readonly (readonly number[])[]): UnequalScatter["byMedians"] {
  if (groups.some((group) => group.length < 3)) return null;
  const distances = groups.map((group) => {
    const middle = medianOf(group);
    return group.map((value) => Math.abs(value - middle));
  });
  const total = distances.reduce((count, group) => count + group.length, 0);
  const centre = mean(distances.flat());
  let between = 0;
  let within = 0;
  for (const group of distances) {
    const own = mean(group);
    between += group.length * (own - centre) ** 2;
    for (const value of group) within += (value - own) ** 2;
  }
  const df = groups.length - 1;
  const dfScatter = total - groups.length;
  if (!(within > 0)) return null;
  const f = between / df / (within / dfScatter);
  return { f, df, dfScatter, p: fTail(f, df, dfScatter) };
}

function byVariances(groups: readonly (readonly number[])[]): UnequalScatter["byVariances"] {
  const dfs = groups.map((group) => group.length - 1);
  const all = dfs.reduce((sum, df) => sum + df, 0);
  const variances = groups.map((group) => variance([...group]));
  const pooled = variances.reduce((sum, value, i) => sum + dfs[i] * value, 0) / all;
  const raw = all * Math.log(pooled) - variances.reduce((sum, value, i) => sum + dfs[i] * Math.log(value), 0);
  const correction = 1 + (dfs.reduce((sum, df) => sum + 1 / df, 0) - 1 / all) / (3 * (groups.length - 1));
  const statistic = Math.max(0, raw / correction);
  const df = groups.length - 1;
  return { statistic, df, p: chiSquareTail(statistic, df) };
}

/** The middle value, or half-way between the two in the middle. */
export function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

function inWords(ratio: number | null, p: number | null): string {
  if (ratio === null || p === null)
    return "One level read the same every time, so its scatter can't be set beside the others.";
  const size = formatNumber(ratio, { digits: 2 });
  return p < 0.05
    ? `The levels don't scatter alike: the largest standard deviation is ${size} times the smallest (p ${pText(p)}).`
    : `No difference in scatter was seen (largest standard deviation ${size} times the smallest, p ${pText(p)}); with few runs a level a large one could be missed.`;
}
