import type { Factor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { rankOf } from "./aliases.ts";
import { readGenerators } from "./generator-text.ts";
import { minimumAberration } from "./minimum-aberration.ts";
import { resolutionOf, type RegularDesign } from "./regular-design.ts";

export interface FractionRequest {
  readonly runs?: number | undefined;
  readonly resolution?: number | undefined;
  readonly generators?: readonly string[] | undefined;
  readonly part: number;
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
  const signs = base.signs.map((sign, place): 1 | -1 => {
    const generated = place - base.bits;
    const turned = generated >= 0 && ((request.part - 1) >> generated) & 1;
    return turned ? (sign > 0 ? -1 : 1) : sign;
  });
  return folded(factors, { ...base, signs }, request.foldOver);
}

function baseFraction(factors: readonly Factor[], request: FractionRequest): RegularDesign {
  const { runs, resolution, generators } = request;
  const asked = [runs, resolution, generators].filter((option) => option !== undefined).length;
  if (factors.length < 2) {
    throw new LayoutError(
      `layout "fraction": ${factors.length} factor can't be fractioned. Name at least 3, or use "factorial".`,
    );
  }
  if (generators) {
    if (asked > 1) refuseBoth();
    return fromGenerators(factors, generators);
  }
  if (asked > 1) refuseBoth();
  const bits =
    runs === undefined
      ? bitsForResolution(factors.length, resolution ?? DEFAULT_RESOLUTION)
      : bitsForRuns(factors.length, runs);
  return searched(factors.length, bits);
}

function refuseBoth(): never {
  throw new LayoutError('layout "fraction": give one of "runs", "resolution" and "generators", not several.');
}

function searched(factors: number, bits: number): RegularDesign {
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

function bitsForResolution(factors: number, resolution: number): number {
  const least = Math.ceil(Math.log2(factors + 1));
  let best = 0;
  for (let bits = least; bits < factors && 2 ** bits <= MOST_FRACTION_RUNS; bits += 1) {
    const reached = resolutionOf(searched(factors, bits)) ?? 0;
    best = Math.max(best, reached);
    if (reached >= resolution) return bits;
  }
  throw new LayoutError(
    best === 0 || 2 ** factors <= MOST_FRACTION_RUNS
      ? `layout.resolution: no fraction of ${factors} factors has resolution ${resolution}${best > 0 ? `; ${best} can be had` : ""}. Use "factorial" with its ${2 ** factors} runs.`
      : `layout.resolution: ${factors} factors in up to ${MOST_FRACTION_RUNS} runs reach resolution ${best}, not ${resolution}. Ask for ${best}, or for fewer factors.`,
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
