import { formatNumber, listed } from "../../units/index.ts";
import { varianceRange } from "../../numerics/index.ts";
import type { RemlFit } from "../../numerics/index.ts";
import type { Uncertain } from "../fit.ts";
import type { ObservedSource } from "../observations.ts";
import { sourceWords } from "../source-words.ts";
import { differenceText, interval, percent, rounded } from "../words.ts";
import { isInterval, withReason } from "../words.ts";
import type { VariancePart } from "./mixed-fit.ts";

export interface PartContext {
  readonly response: { readonly name: string; readonly unit: string };
  readonly logScale: boolean;
  readonly confidence: number;
  /** What one row is: "reading" or "run". */
  readonly row: "reading" | "run";
}

/** Where a ratio leaves the range of numbers. */
const pastAll = "10³⁰⁸ and more";

/** The variance of each source with its share of the whole; intervals are worked out when they are read. */
export function varianceParts(
  fit: RemlFit,
  sources: readonly ObservedSource[],
  context: PartContext,
): readonly VariancePart[] {
  const { variances } = fit;
  const total = variances.reduce((sum, value) => sum + value, 0);
  const { confidence } = context;
  return Array.from(variances, (variance, k): VariancePart => {
    const residual = k === sources.length;
    const share = variance / total;
    const standardDeviation = Math.sqrt(variance);
    const own = once((): Uncertain => {
      const { low, high } = varianceRange(fit, k, { what: "variance", confidence });
      return high === Infinity
        ? withReason(
            standardDeviation,
            `${sources[k].levels.length} levels of ${sourceWords(sources[k].name)} set no upper limit`,
          )
        : interval(standardDeviation, Math.sqrt(low), Math.sqrt(high), confidence);
    });
    const ofShare = once((): Uncertain => {
      const { low, high } = varianceRange(fit, k, { what: "share", confidence });
      return interval(share, low, high, confidence);
    });
    const part = {
      source: residual ? "residual" : sources[k].name,
      levels: residual ? fit.plain.rows : sources[k].levels.length,
      variance,
      standardDeviation,
      get interval() {
        return own();
      },
      share,
      get shareInterval() {
        return ofShare();
      },
    };
    return Object.defineProperty(part, "sentence", {
      enumerable: true,
      get: () => sentence(part, context),
    }) as VariancePart; // the property just defined is the one that is missing
  });
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

/** "From one day to another Ra scatters by 0.12 µm (…): 40 % of the variance of one reading (95 % 8 to 76 %)." */
function sentence(part: Omit<VariancePart, "sentence">, context: PartContext): string {
  const { source, variance, standardDeviation, interval: own, shareInterval } = part;
  const { response, logScale, confidence, row } = context;
  const where =
    source === "residual"
      ? `From ${row} to ${row}, all else the same,`
      : source.includes(" + ")
        ? `From one combination of ${listed(sourceWords(source).split(" + "))} to another`
        : `From one ${sourceWords(source)} to another`;
  const told = (sd: number, half: number): string =>
    logScale
      ? Number.isFinite(Math.exp(sd))
        ? `a factor of ${rounded(Math.exp(sd), half)}`
        : `a factor of ${pastAll}`
      : `${rounded(sd, half)}${differenceText(response.unit)}`;
  if (variance === 0) {
    const missed = isInterval(own)
      ? ` up to ${told(own.high, logScale ? Math.expm1(own.high) : own.high)} (standard deviation) could have been missed.`
      : "";
    return `${where} no scatter of ${response.name} beyond the other sources was found: its variance is zero;${missed === "" ? ` how much could have been missed can't be told.` : missed}`;
  }
  const half = isInterval(own) ? (own.high - own.low) / 2 : standardDeviation;
  const shown = logScale ? Math.exp(standardDeviation) * half : half;
  const range = isInterval(own)
    ? `standard deviation, ${percent(confidence)} ${ends(own.low, own.high, (sd) => told(sd, shown))}`
    : `standard deviation; no upper limit can be told`;
  const share = isInterval(shareInterval)
    ? ` (${percent(confidence)} ${wholePercent(shareInterval.low)} to ${wholePercent(shareInterval.high)} %)`
    : "";
  return `${where} ${response.name} scatters by ${told(standardDeviation, shown)} (${range}): ${wholePercent(part.share)} % of the variance of one ${row}${share}.`;
}

function ends(low: number, high: number, told: (sd: number) => string): string {
  return `${low === 0 ? "none" : told(low)} to ${told(high)}`;
}

function wholePercent(share: number): string {
  if (share === 0 || share > 0.9995) return share === 0 ? "0" : "100";
  return formatNumber(100 * share, { digits: share < 0.1 && share > 0 ? 1 : 2 });
}
