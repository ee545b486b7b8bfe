import { listed } from "../../units/index.ts";
import { seededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { comparePatterns, minimumAberration } from "../two-level/minimum-aberration.ts";
import { onesIn, wordLengths, type RegularDesign } from "../two-level/regular-design.ts";

/**
 * A two-level fraction whose hard factors move only between whole plots: they are products of the first `plotBits` basic bits,
 * and every easy factor has a bit beyond those. The hard factors by themselves are a full factorial or the fraction of minimum
 * aberration (they keep their own resolution); the easy factors' generators may hold hard letters and are chosen for the fewest
 * short words of the whole (Bingham and Sitter, Technometrics 41, 1999, 62–70: minimum-aberration two-level fractional
 * factorial split-plot designs), by exchange from several starts. Undefined where so few bits can't hold them.
 */
export function splitPlotFraction(
  factors: readonly Factor[],
  bits: number,
  plotBits: number,
): RegularDesign | undefined {
  const places = factors.map((_, place) => place);
  const hard = places.filter((place) => factors[place]?.change === "hard");
  const easy = places.filter((place) => factors[place]?.change !== "hard");
  const wholePlots = 2 ** plotBits;
  const subplotBits = bits - plotBits;
  const room = 2 ** bits - wholePlots;
  if (hard.length < plotBits || hard.length > wholePlots - 1) return undefined;
  if (subplotBits < 1 || easy.length < subplotBits || easy.length > room) return undefined;
  const hardMasks = [...basis(0, plotBits), ...generatedMasks(hard.length, plotBits)];
  const easyMasks = subplotMasks(hardMasks, easy.length, bits, plotBits);
  const masks = places.map((place) =>
    factors[place]?.change === "hard"
      ? (hardMasks[hard.indexOf(place)] ?? 0)
      : (easyMasks[easy.indexOf(place)] ?? 0),
  );
  return { bits, masks, signs: masks.map(() => 1) };
}

function basis(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from }, (_, index) => 1 << (from + index));
}

function generatedMasks(factors: number, bits: number): readonly number[] {
  return factors > bits ? minimumAberration(factors, bits) : [];
}

const FIXED_SEED = 1999;
/** Starts of the exchange. With eight, the one case that the tests enumerate (3 hard and 4 easy factors in 16 runs) is met. */
const STARTS = 8;

function subplotMasks(
  hardMasks: readonly number[],
  count: number,
  bits: number,
  plotBits: number,
): readonly number[] {
  const own = basis(plotBits, bits);
  const extra = count - own.length;
  const candidates = Array.from({ length: 2 ** bits }, (_, mask) => mask).filter(
    (mask) => mask >= 2 ** plotBits && onesIn(mask) > 1,
  );
  const patternOf = (masks: readonly number[]) =>
    wordLengths({ bits, masks: [...hardMasks, ...own, ...masks] });
  const random = seededRandom(FIXED_SEED);
  let best: readonly number[] = [];
  let bestPattern: readonly number[] | undefined;
  for (let start = 0; start < STARTS && extra > 0; start += 1) {
    const pool =
      start === 0
        ? [...candidates].sort((one, other) => onesIn(other) - onesIn(one) || one - other)
        : random.shuffle(candidates);
    let masks = pool.slice(0, extra);
    let pattern = patternOf(masks);
    for (let improved = true; improved;) {
      improved = false;
      for (let place = 0; place < extra; place += 1) {
        for (const mask of candidates) {
          if (masks.includes(mask)) continue;
          const changed = masks.map((other, index) => (index === place ? mask : other));
          const found = patternOf(changed);
          if (comparePatterns(found, pattern) >= 0) continue;
          [masks, pattern, improved] = [changed, found, true];
        }
      }
    }
    if (bestPattern === undefined || comparePatterns(pattern, bestPattern) < 0)
      [best, bestPattern] = [masks, pattern];
  }
  return [...own, ...best];
}

/** Bits that the whole plots of one replicate need at least and at most, so that hard factors can be told apart. */
export function plotBitsRange(hard: number): { readonly least: number; readonly most: number } {
  return { least: Math.ceil(Math.log2(hard + 1)), most: hard };
}

/** Refuses generators by which an easy factor never moves within a whole plot. */
export function refuseConstantInPlots(factors: readonly Factor[], design: RegularDesign): void {
  const span = new Set([0]);
  factors.forEach((factor, place) => {
    if (factor.change !== "hard") return;
    for (const mask of [...span]) span.add(mask ^ (design.masks[place] ?? 0));
  });
  const stuck = factors.filter(
    (factor, place) => factor.change !== "hard" && span.has(design.masks[place] ?? 0),
  );
  if (stuck.length === 0 || span.size === 1) return;
  throw new LayoutError(
    `layout.generators: ${listed(stuck.map(({ name }) => name))} would stay the same all through each set-up, being made of factors that are hard to change only. Let the generator hold at least 1 factor that is easy to change.`,
  );
}
