import { tQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Fit, Uncertain } from "../fit.ts";
import { interval, isInterval, withReason } from "../words.ts";
import { placesOf, type SecondDegree } from "./second-degree.ts";

/** How a surface bends along one of its own axes. */
export interface BendInterval {
  /** A unit direction in coded factors, in the order of `Surface.factors`. */
  readonly axis: readonly number[];
  /** The eigenvalue: what is added one coded step from the level point along the axis. */
  readonly value: Uncertain;
  /** What the interval says of the bend: `unknown` where it holds 0. */
  readonly bends: "up" | "down" | "unknown";
  readonly text: string;
}

/**
 * Intervals of the eigenvalues of a fitted surface: whether it bends up or down along each of its axes, or whether the runs can't tell.
 *
 * The standard error is that of the square term along the axis as found (Bisgaard and Ankenman 1996, Technometrics 38, 238–246: the fit in rotated
 * factors), which leaves out that the axis itself is an estimate; its coverage is drawn in tests/coverage. Refuses a fit without a surface.
 *
 * Example: an interval −1.4 to −0.5 says that the response falls away on both sides.
 */
export function bendIntervals(
  fit: Fit,
  options: { readonly confidence?: number } = {},
): readonly BendInterval[] {
  const { surface, secondDegree, confidence: own } = fit;
  const { confidence = own } = options;
  if (surface === null || secondDegree === null)
    throw modelError(
      "a fit without a surface of second degree",
      'one with every square, such as model: "surface"',
    );
  return surface.axes.map((axis, a): BendInterval => {
    const estimate = surface.eigenvalues[a];
    const variance = varianceAlong(secondDegree, axis);
    const value =
      variance === null
        ? withReason(estimate, fit.noInterval)
        : between(
            estimate,
            tQuantile((1 + confidence) / 2, secondDegree.df) * Math.sqrt(variance),
            confidence,
          );
    const bends =
      !("low" in value) || (value.low <= 0 && value.high >= 0) ? "unknown" : value.low > 0 ? "up" : "down";
    return { axis, value, bends, text: sentence(fit, axis, value, bends) };
  });
}

function between(estimate: number, half: number, confidence: number): Uncertain {
  return interval(estimate, estimate - half, estimate + half, confidence);
}

/** Variance of u′ B u for a direction u. */
function varianceAlong({ covariance, factors }: SecondDegree, axis: readonly number[]): number | null {
  if (covariance === null) return null;
  const weights = placesOf(factors.length).map(([i, j]) =>
    j === undefined ? 0 : (i === j ? 1 : 2) * axis[i] * axis[j],
  );
  let variance = 0;
  weights.forEach((a, i) => weights.forEach((b, j) => (variance += a * b * covariance[i][j])));
  return Math.max(0, variance);
}

function sentence(fit: Fit, axis: readonly number[], value: Uncertain, bends: BendInterval["bends"]): string {
  const { name } = fit.response;
  const along = directionWords(fit.surface?.factors ?? [], axis);
  const step = `one coded step from the level point ${fit.logScale ? `multiplies it by ${asRatio(value).text}` : `changes it by ${value.text}`}.`;
  if (bends === "unknown") return `Along ${along} the runs can't tell whether ${name} bends: ${step}`;
  return `Along ${along} ${name} bends ${bends}: ${step}`;
}

/** A difference of logarithms as what it multiplies the response by. */
function asRatio(value: Uncertain): Uncertain {
  if (isInterval(value))
    return interval(Math.exp(value.estimate), Math.exp(value.low), Math.exp(value.high), value.confidence);
  return value.estimate === null ? value : withReason(Math.exp(value.estimate), value.reason);
}

/** "feed", or "feed rising with speed falling", as far as a factor has a tenth of the direction. */
export function directionWords(factors: readonly string[], axis: readonly number[]): string {
  const parts = axis
    .map((share, i) => ({ name: factors[i], share }))
    .filter(({ share }) => Math.abs(share) > 0.1)
    .sort((a, b) => Math.abs(b.share) - Math.abs(a.share));
  if (parts.length === 1) return parts[0].name;
  const turn = Math.sign(parts[0].share);
  return parts
    .map(
      ({ name, share }, k) =>
        `${k === 0 ? "" : k === 1 ? "with " : "and "}${name} ${share * turn > 0 ? "rising" : "falling"}`,
    )
    .join(" ");
}
