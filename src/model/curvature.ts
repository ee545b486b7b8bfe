import { tQuantile, tTwoSided } from "../numerics/index.ts";
import type { Curvature } from "./fit.ts";
import type { PureError } from "./pure-error.ts";
import type { Solved } from "./solved.ts";

/** A middle setting may be off the exact middle by this share of half the range: machines and gauges are set in steps. */
const middleTolerance = 0.05;

/**
 * Corner mean less centre mean of two-level runs with centre points, against pure error (NIST/SEMATECH e-Handbook, section 5.3.3.9;
 * Montgomery, *Design and Analysis of Experiments*, "Addition of centre points"). Null unless every run is a corner or a centre point
 * (factors at two levels only, categories and blocks may differ but must share out alike over corners and centre points), the rows are
 * unweighted and there is pure error.
 */
export function curvature(solved: Solved, pure: PureError): Curvature | null {
  const { observations, response, weights, confidence, blocked } = solved;
  const { rows, factors } = observations;
  if (weights !== undefined || pure.df === 0 || pure.sumOfSquares === 0) return null;
  const seen = factors.map((factor) => [...new Set(rows.map((row) => row.settings[factor.name]))]);
  const withMiddle: { name: string; low: number; high: number }[] = [];
  for (const [i, factor] of factors.entries()) {
    if (factor.kind === "category" || seen[i].length < 3) continue;
    const numbers = seen[i].map(Number).sort((a, b) => a - b);
    if (numbers.length > 3) return null;
    const [low, middle, high] = numbers as [number, number, number];
    const inner =
      factor.scale === "log" && low > 0
        ? Math.log((middle * middle) / (low * high)) / Math.log(high / low)
        : (2 * middle - low - high) / (high - low);
    if (Math.abs(inner) > middleTolerance) return null;
    withMiddle.push({ name: factor.name, low, high });
  }
  if (withMiddle.length === 0) return null;
  const places = { corner: new Map<string, number>(), centre: new Map<string, number>() };
  const sums = { corner: 0, centre: 0 };
  const counts = { corner: 0, centre: 0 };
  for (const [i, row] of rows.entries()) {
    const middles = withMiddle.filter(
      ({ name, low, high }) => row.settings[name] !== low && row.settings[name] !== high,
    ).length;
    if (middles > 0 && middles < withMiddle.length) return null;
    const kind = middles === 0 ? "corner" : "centre";
    sums[kind] += response[i];
    counts[kind] += 1;
    const others = factors.filter(({ name }) => withMiddle.every((factor) => factor.name !== name));
    const key = JSON.stringify([blocked ? row.block : 0, ...others.map(({ name }) => row.settings[name])]);
    places[kind].set(key, (places[kind].get(key) ?? 0) + 1);
  }
  if (counts.corner === 0 || counts.centre === 0) return null;
  const keys = new Set([...places.corner.keys(), ...places.centre.keys()]);
  for (const key of keys) {
    if ((places.corner.get(key) ?? 0) * counts.centre !== (places.centre.get(key) ?? 0) * counts.corner)
      return null;
  }
  const difference = sums.corner / counts.corner - sums.centre / counts.centre;
  const meanSquare = pure.sumOfSquares / pure.df;
  const standardError = Math.sqrt(meanSquare * (1 / counts.corner + 1 / counts.centre));
  const t = difference / standardError;
  const half = tQuantile((1 + confidence) / 2, pure.df) * standardError;
  return {
    difference,
    standardError,
    low: difference - half,
    high: difference + half,
    sumOfSquares: difference ** 2 / (1 / counts.corner + 1 / counts.centre),
    f: t * t,
    t,
    df: pure.df,
    p: tTwoSided(t, pure.df),
  };
}
