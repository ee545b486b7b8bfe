import {
  lazyCubic,
  lazyCubics,
  nextPartsFactor,
  nextPartsFactors,
  nextPartsTail,
  nonCentralTCdf,
  normalCdf,
  normalQuantile,
  normalUpperQuantile,
  tCdf,
  tQuantile,
  toleranceFactor,
} from "../../numerics/index.ts";
import type { ResponseLimit } from "./response-limit.ts";

type Promise = Pick<ResponseLimit, "for" | "share" | "parts" | "assurance">;

/**
 * How many standard deviations of one row a bound lies beyond the estimate at a point of leverage h: for the mean Student's t times √h; for a share of parts the
 * one-sided tolerance factor of 1/h values, with the degrees of freedom of the fit (noncentral t); for each of the next n parts the equicorrelated
 * multivariate t of parts that share one estimate (Student's t times √(1 + h) for one part). All three are exact for normal scatter.
 *
 * Source: Odeh and Owen 1980, *Tables for Normal Tolerance Limits*; for a regression Krishnamoorthy and Mathew 2009, *Statistical Tolerance Regions*, ch. 3;
 * Draper and Smith for mean and next part; for several parts `nextPartsFactor` (Hahn 1970). Accuracy: relative 1e-9.
 */
export function boundMultiple(promise: Promise, leverage: number, df: number): number {
  const { for: whom, share, parts, assurance } = promise;
  switch (whom) {
    case "mean":
      return tQuantile(assurance, df) * Math.sqrt(leverage);
    case "share":
      return toleranceFactor(1 / leverage, share, assurance, { df });
    case "next":
      return nextPartsFactor(assurance, { parts, leverage }, df);
  }
}

/** The same were model and scatter known: what is left when the last doubt of the estimates is gone. */
export function knownMultiple({ for: whom, share, parts, assurance }: Promise): number {
  return whom === "mean"
    ? 0
    : whom === "share"
      ? normalQuantile(share)
      : normalUpperQuantile(-Math.expm1(Math.log(assurance) / parts));
}

/** The assurance with which the limit is kept where the estimate lies `inside` standard deviations of one row within it. */
export function assuranceAt(promise: Promise, inside: number, leverage: number, df: number): number {
  const root = Math.sqrt(leverage);
  switch (promise.for) {
    case "mean":
      return tCdf(inside / root, df);
    case "share":
      return nonCentralTCdf(inside / root, df, normalQuantile(promise.share) / root);
    case "next":
      return 1 - nextPartsTail(inside, { parts: promise.parts, leverage }, df);
  }
}

/** The estimated share of single parts within a limit that lies `inside` standard deviations off. */
export function shareWithin(inside: number): number {
  return normalCdf(inside);
}

/** How far a cubic may be off, as a share; the tests hold it against the multiple itself. */
export const multipleSlack = 2e-5;
/** Beyond so many degrees of freedom Student's t is asked for itself. */
const manyDf = 1e5;

/** Whether `quickMultiple` is the multiple itself, to rounding. */
export function isQuickExact({ for: whom, parts }: Promise, dfVaries: boolean): boolean {
  return !dfVaries && (whom === "mean" || (whom === "next" && parts === 1));
}

/**
 * `boundMultiple` for a search: computed at a few leverages and degrees of freedom, cubics between them, kept as they are asked for. With `dfVaries` each point has
 * degrees of freedom of its own, as in a fit with random sources.
 */
export function quickMultiple(promise: Promise, dfVaries: boolean): (leverage: number, df: number) => number {
  const { for: whom, parts } = promise;
  if (whom === "share") return keptByDf((df) => quickShare(promise, df));
  if (whom === "next" && parts > 1) {
    const known = new Map<number, (assurance: number, df: number) => number>();
    const ofOnePart = (place: number, df: number): number => {
      const leverage = Math.exp(place);
      let factor = known.get(place);
      if (factor === undefined) known.set(place, (factor = nextPartsFactors({ parts, leverage })));
      return factor(promise.assurance, df) / Math.sqrt(1 + leverage);
    };
    if (!dfVaries)
      return keptByDf((df) => {
        const quick = lazyCubic((place) => ofOnePart(place, df), 0.35);
        return (leverage) => quick(Math.log(leverage)) * Math.sqrt(1 + leverage);
      });
    // The logarithm is nearly straight over 1/df; a bound inside the estimate has none, and hardly bends.
    const [to, back] = promise.assurance < 0.5 ? [(c: number) => c, (c: number) => c] : [Math.log, Math.exp];
    const quick = lazyCubics(
      (across, along) => to(ofOnePart(along, across > 0 ? 1 / across : Infinity)),
      [0.08, 0.35],
    );
    return (leverage, df) => back(quick(1 / df, Math.log(leverage))) * Math.sqrt(1 + leverage);
  }
  const spread = whom === "mean" ? Math.sqrt : (leverage: number): number => Math.sqrt(1 + leverage);
  const t = (df: number): number => tQuantile(promise.assurance, df);
  if (!dfVaries)
    return keptByDf((df) =>
      (
        (reach) => (leverage) =>
          reach * spread(leverage)
      )(t(df)),
    );
  const quick = lazyCubic((place) => t(Math.exp(place)), 0.06);
  return (leverage, df) => (df < manyDf ? quick(Math.log(df)) : t(df)) * spread(leverage);
}

function quickShare(promise: Promise, df: number): (leverage: number) => number {
  const quick = lazyCubic((place) => boundMultiple(promise, Math.exp(place), df), 0.125);
  return (leverage) => quick(Math.log(leverage));
}

/** One function for the degrees of freedom of a fit, made with the first point. */
function keptByDf(
  make: (df: number) => (leverage: number) => number,
): (leverage: number, df: number) => number {
  let known = NaN;
  let at: (leverage: number) => number = () => NaN;
  return (leverage, df) => {
    if (df !== known) [known, at] = [df, make(df)];
    return at(leverage);
  };
}
