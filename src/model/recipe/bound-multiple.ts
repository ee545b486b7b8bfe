import {
  nonCentralTCdf,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
  tTail,
  toleranceFactor,
} from "../../numerics/index.ts";
import type { ResponseLimit } from "./response-limit.ts";

type Promise = Pick<ResponseLimit, "for" | "share" | "parts" | "assurance">;

/**
 * How many standard deviations of one row a bound lies beyond the estimate at a point of leverage h: for the mean Student's t times √h; for a share of parts the
 * one-sided tolerance factor of 1/h values, with the degrees of freedom of the fit (noncentral t); for each of the next n parts Student's t at (1 − assurance)/n
 * times √(1 + h) (Bonferroni: exact for one part, a little wide for several).
 *
 * Source: Odeh and Owen 1980, *Tables for Normal Tolerance Limits*; for a regression Krishnamoorthy and Mathew 2009, *Statistical Tolerance Regions*, ch. 3;
 * Draper and Smith for mean and next part.
 */
export function boundMultiple(promise: Promise, leverage: number, df: number): number {
  const { for: whom, share, parts, assurance } = promise;
  switch (whom) {
    case "mean":
      return tQuantile(assurance, df) * Math.sqrt(leverage);
    case "share":
      return toleranceFactor(1 / leverage, share, assurance, { df });
    case "next":
      return tQuantile(1 - (1 - assurance) / parts, df) * Math.sqrt(1 + leverage);
  }
}

/** The same were model and scatter known: what is left when the last doubt of the estimates is gone. */
export function knownMultiple({ for: whom, share, parts, assurance }: Promise): number {
  return whom === "mean"
    ? 0
    : whom === "share"
      ? normalQuantile(share)
      : normalQuantile(1 - (1 - assurance) / parts);
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
      return Math.max(0, 1 - promise.parts * tTail(inside / Math.sqrt(1 + leverage), df));
  }
}

/** The estimated share of single parts within a limit that lies `inside` standard deviations off. */
export function shareWithin(inside: number): number {
  return normalCdf(inside);
}

/** Step of ln h between places where a tolerance factor is computed; cubics go between. */
const step = 0.125;
/** How far a cubic may be off, as a share; the tests hold it against the factor itself. */
export const multipleSlack = 2e-5;

/** `boundMultiple` for a search: noncentral t at a few leverages, cubics between them, kept as they are asked for. */
export function quickMultiple(promise: Promise, df: number): (leverage: number) => number {
  if (promise.for !== "share") {
    const t = boundMultiple({ ...promise, for: "mean" }, 1, df);
    if (promise.for === "mean") return (leverage) => t * Math.sqrt(leverage);
    const next = boundMultiple(promise, 0, df);
    return (leverage) => next * Math.sqrt(1 + leverage);
  }
  const known = new Map<number, number>();
  const at = (k: number): number => {
    let value = known.get(k);
    if (value === undefined) known.set(k, (value = boundMultiple(promise, Math.exp(k * step), df)));
    return value;
  };
  let base = NaN;
  let [a, b, c, d] = [0, 0, 0, 0];
  return (leverage) => {
    const place = Math.log(leverage) / step;
    const k = Math.floor(place);
    if (k !== base) {
      [a, b, c, d] = [at(k - 1), at(k), at(k + 1), at(k + 2)];
      base = k;
    }
    const u = place - k;
    return (
      (-a * u * (u - 1) * (u - 2)) / 6 +
      (b * (u + 1) * (u - 1) * (u - 2)) / 2 -
      (c * (u + 1) * u * (u - 2)) / 2 +
      (d * (u + 1) * u * (u - 1)) / 6
    );
  };
}
