import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { listed } from "../../units/index.ts";
import { plotBitsRange, refuseConstantInPlots, splitPlotFraction } from "../split-plot/split-fraction.ts";
import { dependences, placesIn, rankOf } from "./aliases.ts";
import { readGenerators } from "./generator-text.ts";
import { minimumAberration } from "./minimum-aberration.ts";
import { resolutionOf, type RegularDesign } from "./regular-design.ts";

export interface FractionRequest {
  readonly runs?: number | undefined;
  readonly resolution?: number | undefined;
  readonly generators?: readonly string[] | undefined;
  readonly part: number;
  /** Given where factors that are hard to change are to move only between whole plots; left out, all factors count as easy. */
  readonly replicates?: number | undefined;
  /** Whole plots in all, over the replicates. */
  readonly wholePlots?: number | undefined;
  readonly foldOver: string;
}

/** Fractions are looked for up to this many runs. */
const MOST_FRACTION_RUNS = 256;
const DEFAULT_RESOLUTION = 4;

/** The two-level fraction that a request asks for, fold-over included. */
export function fractionOf(factors: readonly Factor[], request: FractionRequest): RegularDesign {
  const base = baseFraction(factors, request);
  const parts = 2 ** (factors.length - base.bits);
  if (request.part > parts) {
    throw new LayoutError(
      `layout.part: ${request.part} of ${parts} fractions; give a number from 1 to ${parts}.`,
    );
  }
  const made = dependences(base.masks).map((word) => Math.max(...placesIn(word)));
  const signs = base.signs.map((sign, place): 1 | -1 => {
    const generated = made.indexOf(place);
    const turned = generated >= 0 && ((request.part - 1) >> generated) & 1;
    return turned ? (sign > 0 ? -1 : 1) : sign;
  });
  return folded(factors, { ...base, signs }, request.foldOver);
}

function baseFraction(factors: readonly Factor[], request: FractionRequest): RegularDesign {
  const { runs, resolution, generators } = request;
  const asked = [runs, resolution, generators].filter((option) => option !== undefined).length;
  if (factors.length < 3) {
    throw new LayoutError(
      `layout "fraction": ${factors.length} factor${factors.length === 1 ? "" : "s"}; it takes three or more. With fewer, use "factorial" with its ${2 ** factors.length} runs.`,
    );
  }
  if (generators) {
    if (asked > 1) refuseBoth();
    const made = fromGenerators(factors, generators);
    if (request.replicates !== undefined) refuseConstantInPlots(factors, made);
    return made;
  }
  if (asked > 1) refuseBoth();
  const bits =
    runs === undefined ? bitsForResolution(factors, resolution, request) : bitsForRuns(factors.length, runs);
  const found = searched(factors, bits, request);
  if (found) return found;
  return refuseSplitPlot(factors, bits, request);
}

function refuseBoth(): never {
  throw new LayoutError('layout "fraction": give one of "runs", "resolution" and "generators", not several.');
}

/** The fraction of minimum aberration; where factors are hard to change, among those whose whole plots they fit. */
function searched(
  factors: readonly Factor[],
  bits: number,
  request: Pick<FractionRequest, "wholePlots" | "replicates">,
): RegularDesign | undefined {
  const hard = factors.filter(({ change }) => change === "hard").length;
  const inPlots = request.replicates !== undefined && hard > 0 && hard < factors.length;
  if (!inPlots) return plainFraction(factors.length, bits);
  const plotBits = plotBitsFor(hard, bits, request);
  return plotBits === undefined ? undefined : splitPlotFraction(factors, bits, plotBits);
}

/** Bits of the hard factors: all of them where the whole plots asked for are enough, else as many as those hold. */
function plotBitsFor(
  hard: number,
  bits: number,
  { wholePlots, replicates = 1 }: Pick<FractionRequest, "wholePlots" | "replicates">,
): number | undefined {
  const { least, most } = plotBitsRange(hard);
  if (wholePlots === undefined) return Math.max(least, Math.min(most, bits - 1));
  // Fewer whole plots than replicates hold several replicates each: the fewest together that leave enough settings.
  for (let together = 1; together <= replicates; together += 1) {
    if (replicates % together !== 0) continue;
    const settings = Math.log2((wholePlots * together) / replicates);
    if (Number.isInteger(settings) && settings >= least) return Math.min(most, settings);
  }
  return undefined;
}

function refuseSplitPlot(
  factors: readonly Factor[],
  bits: number,
  { wholePlots, replicates = 1 }: Pick<FractionRequest, "wholePlots" | "replicates">,
): never {
  const hard = factors.filter(({ change }) => change === "hard");
  const { least } = plotBitsRange(hard.length);
  const names = listed(hard.map(({ name }) => name));
  const works = Array.from({ length: Math.max(0, bits - least + 1) }, (_, index) => least + index)
    .filter((own) => splitPlotFraction(factors, bits, Math.min(own, hard.length)) !== undefined)
    .map((own) => replicates * 2 ** own);
  throw new LayoutError(
    works.length > 0
      ? `layout.wholePlots: ${2 ** bits * replicates} runs can't be cut in ${wholePlots ?? replicates * 2 ** least} set-ups that tell ${names}. Take ${listed(works.map(String), "or")}.`
      : `layout.runs: ${2 ** bits} runs can't hold ${factors.length} factors of which ${names} move${hard.length === 1 ? "s" : ""} only between set-ups. Take ${2 ** (bits + 1)} runs, or mark fewer factors as hard to change.`,
  );
}

function plainFraction(factors: number, bits: number): RegularDesign {
  const basic = Array.from({ length: bits }, (_, bit) => 1 << bit);
  const masks = [...basic, ...minimumAberration(factors, bits)];
  return { bits, masks, signs: masks.map(() => 1) };
}

function fromGenerators(factors: readonly Factor[], texts: readonly string[]): RegularDesign {
  const names = factors.map((factor) => factor.name);
  const generators = readGenerators(texts, names);
  const basic = names.flatMap((_, place) =>
    generators.some((generator) => generator.factor === place) ? [] : [place],
  );
  const masks = names.map((_, place) => {
    const generator = generators.find((candidate) => candidate.factor === place);
    const product = generator ? generator.product : [place];
    return product.reduce((mask, other) => mask | (1 << basic.indexOf(other)), 0);
  });
  return {
    bits: basic.length,
    masks,
    signs: names.map((_, place) => generators.find((candidate) => candidate.factor === place)?.sign ?? 1),
  };
}

function bitsForRuns(factors: number, runs: number): number {
  const bits = Math.log2(runs);
  const least = Math.ceil(Math.log2(factors + 1));
  const works = Array.from(
    { length: Math.max(0, factors - least) },
    (_, index) => 2 ** (least + index),
  ).filter((count) => count <= MOST_FRACTION_RUNS);
  if (Number.isInteger(bits) && bits >= least && bits < factors && runs <= MOST_FRACTION_RUNS) return bits;
  const full =
    Number.isInteger(bits) && bits >= factors ? ` All ${2 ** factors} combinations are a "factorial".` : "";
  throw new LayoutError(
    `layout.runs: ${runs} runs can't hold a fraction of ${factors} factors; ${works.length > 0 ? `these can: ${works.join(", ")}` : "no number can"}.${full}${Number.isInteger(bits) ? "" : ' For other multiples of 4 use "plackett-burman".'}`,
  );
}

function bitsForResolution(
  named: readonly Factor[],
  asked: number | undefined,
  request: Pick<FractionRequest, "wholePlots" | "replicates">,
): number {
  const factors = named.length;
  const resolution = asked ?? DEFAULT_RESOLUTION;
  const least = Math.ceil(Math.log2(factors + 1));
  let best = 0;
  for (let bits = least; bits < factors && 2 ** bits <= MOST_FRACTION_RUNS; bits += 1) {
    const found = searched(named, bits, request);
    const reached = found ? (resolutionOf(found) ?? 0) : 0;
    best = Math.max(best, reached);
    if (reached >= resolution) return bits;
  }
  const wish =
    asked === undefined ? `${resolution}, which is looked for unless another is stated` : String(resolution);
  const all = `or use "factorial" with its ${(2 ** factors).toLocaleString("en")} runs`;
  throw new LayoutError(
    best === 0
      ? `layout.resolution: no fraction of ${factors} factors has resolution ${wish}. Take fewer factors, ${all}.`
      : 2 ** factors <= MOST_FRACTION_RUNS
        ? `layout.resolution: no fraction of ${factors} factors has resolution ${wish}. State "resolution": ${best}, which can be had, ${all}.`
        : `layout.resolution: ${factors} factors in up to ${MOST_FRACTION_RUNS} runs reach resolution ${best}, not ${wish}. State "resolution": ${best}, or take fewer factors.`,
  );
}

/** The fraction with its mirror: one more basic bit, which turns the sign of the folded factors. */
function folded(factors: readonly Factor[], base: RegularDesign, foldOver: string): RegularDesign {
  if (foldOver === "none") return base;
  const named = factors.findIndex((factor) => factor.name === foldOver);
  if (foldOver !== "all" && named < 0) {
    throw new LayoutError(
      `layout.foldOver: "${foldOver}" is neither "none", "all" nor a factor. Factors are ${factors.map((factor) => factor.name).join(", ")}.`,
    );
  }
  const mirror = 1 << base.bits;
  const turns = (place: number) => foldOver === "all" || place === named;
  const masks = base.masks.map((mask, place) => (turns(place) ? mask | mirror : mask));
  if (rankOf(masks) === base.bits) {
    throw new LayoutError(
      foldOver === "all"
        ? 'layout.foldOver: every word of this fraction is even, so folding over all factors cuts the same runs again. Fold over one factor, or use "replicates": 2.'
        : `layout.foldOver: folding over ${foldOver} cuts the same runs again. Fold over another factor, or use "replicates": 2.`,
    );
  }
  // The mirror bit is −1 in the first half, so the sign is turned once to keep the first half as it was.
  return {
    bits: base.bits + 1,
    masks,
    signs: base.signs.map((sign, place) => (turns(place) ? (sign > 0 ? -1 : 1) : sign)),
  };
}
