import { seededRandom } from "../../numerics/index.ts";
import { modelError } from "../error.ts";

/** Limits that inert effects keep, as multiples of the pseudo standard error, with the chances that they were drawn with. */
export interface InertLimits {
  readonly effects: number;
  readonly confidence: number;
  /** One inert effect keeps within so many pseudo standard errors with the stated confidence. */
  readonly single: number;
  /** All of them together do. */
  readonly all: number;
  /** Chance that an inert effect reaches this many pseudo standard errors or more. */
  readonly chanceOf: (ratio: number) => number;
  /** Chance that the largest of all inert effects does. */
  readonly chanceOfLargest: (ratio: number) => number;
  readonly draws: number;
  readonly seed: number;
}

/** Enough for limits that are sure to about 1 % of themselves in a tenth of a second. */
const values = 600_000;
/** A saturated layout of 1,024 runs; beyond it nobody judges effects by one another. */
export const mostEffects = 1023;

/**
 * Exact limits, by drawing, for effects judged by their own scatter: how large |effect| / pseudo standard error becomes when every
 * effect is inert. Student's t with effects/3 degrees of freedom (Lenth 1989) only comes near: its single limit is too wide,
 * and for few effects by a third.
 *
 * `effects` is their number, 3 to 1,023. Draws and seed are written in the answer, and the same seed gives the same limits; by chance of the draws the
 * limits are uncertain by about 1 %. Sources: Lenth 1989, Technometrics 31, 469–473; Ye and Hamada 2000, Journal of Quality Technology 32, 57–66 (exact limits by
 * simulation; from memory).
 *
 * @example
 * inertLimits(7, { confidence: 0.95 }).single // 2.3 (t with 7/3 degrees of freedom says 3.8)
 */
export function inertLimits(
  effects: number,
  options: { readonly confidence?: number; readonly seed?: number; readonly draws?: number } = {},
): InertLimits {
  const { confidence = 0.95, seed = 1989 } = options;
  if (!Number.isInteger(effects) || effects < 3 || effects > mostEffects)
    throw modelError(`limits for ${effects} effects`, `from 3 to ${mostEffects} of them`);
  if (!(confidence > 0 && confidence < 1))
    throw modelError(`a confidence of ${confidence}`, "a number between 0 and 1, such as 0.95");
  const { draws = Math.min(50_000, Math.max(2_000, Math.round(values / effects))) } = options;
  const key = `${effects} ${confidence} ${seed} ${draws}`;
  const before = drawn.get(key);
  if (before !== undefined) return before;
  const limits = drawnLimits(effects, { confidence, seed, draws });
  if (drawn.size >= mostKept) drawn.delete(drawn.keys().next().value ?? "");
  drawn.set(key, limits);
  return limits;
}

/** The last limits, since a page asks for the same ones several times; they follow from their key alone. */
const drawn = new Map<string, InertLimits>();
const mostKept = 8;

function drawnLimits(
  effects: number,
  given: { readonly confidence: number; readonly seed: number; readonly draws: number },
): InertLimits {
  const { confidence, seed, draws } = given;
  const random = seededRandom(seed);
  const single = new Float64Array(draws * effects);
  const largest = new Float64Array(draws);
  const sizes = new Float64Array(effects);
  for (let draw = 0; draw < draws; draw++) {
    for (let k = 0; k < effects; k++) sizes[k] = Math.abs(random.normal());
    sizes.sort();
    const unit = pseudoStandardErrorOf(sizes);
    for (let k = 0; k < effects; k++) single[draw * effects + k] = sizes[k] / unit;
    largest[draw] = sizes[effects - 1] / unit;
  }
  single.sort();
  largest.sort();
  return {
    effects,
    confidence,
    single: quantile(single, confidence),
    all: quantile(largest, confidence),
    chanceOf: (ratio) => shareFrom(single, ratio),
    chanceOfLargest: (ratio) => shareFrom(largest, ratio),
    draws,
    seed,
  };
}

/** 1.5 · median of the sizes below 2.5 · (1.5 · median of all); `sorted` rising (Lenth 1989). */
export function pseudoStandardErrorOf(sorted: Float64Array): number {
  const initialScale = 1.5 * medianOf(sorted, sorted.length);
  let kept = sorted.length;
  while (kept > 0 && sorted[kept - 1] >= 2.5 * initialScale) kept--;
  return kept === 0 ? 0 : 1.5 * medianOf(sorted, kept);
}

function medianOf(sorted: Float64Array, length: number): number {
  const half = length >> 1;
  return length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

function quantile(sorted: Float64Array, share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

/** Share of the drawn values at or above; never 0, because beyond the last draw nothing was seen. */
function shareFrom(sorted: Float64Array, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle;
  }
  return Math.max(sorted.length - low, 0.5) / sorted.length;
}
