import { gaussLegendre } from "./gauss-legendre.ts";
import { arcLessSine, halfArcAngle } from "./nose-arc.ts";
import type { NoseOptions } from "./nose-arc.ts";

const micrometresPerMillimetre = 1000;

/**
 * Ideal height of the feed marks in µm (Rt, and Rz where every mark is alike) that a nose radius in mm leaves at a feed in
 * mm: the feed per revolution in turning and with one cutting edge, the feed per tooth where all teeth stand equally high.
 * What a real surface adds (edge, built-up edge, run-out, chatter) is not in it.
 *
 * Exact: r − √(r² − f²/4). Usual: f²/(8r), low by (f/4r)² of itself.
 * Refused: sizes not above zero; a feed that passes the nose arc, with the reason.
 * Source: Shaw, Metal Cutting Principles (from memory); geometry.
 *
 * @example idealHeight(0.2, 0.8) // 6.275 µm
 */
export function idealHeight(feedMm: number, noseRadiusMm: number, options: NoseOptions = {}): number {
  const angle = halfArcAngle(feedMm, noseRadiusMm, options);
  if (options.formula === "usual") return (micrometresPerMillimetre * feedMm ** 2) / (8 * noseRadiusMm);
  // 1 − cos θ = 2 sin²(θ/2) keeps the digits at small feeds.
  return micrometresPerMillimetre * 2 * noseRadiusMm * Math.sin(angle / 2) ** 2;
}

/**
 * Ideal Ra in µm for a nose radius in mm at a feed in mm; see {@link idealHeight} for which feed, and what is refused.
 *
 * Exact: the mean distance of the circular cusp from its own mean line, integrated; good to a few units in the last
 * place at any feed. Usual: f²/(18√3·r), for which the circle is a parabola: 0.3 % low at f = r/4.
 * Source: geometry; the usual form in Shaw, Metal Cutting Principles (from memory).
 *
 * @example idealRa(0.2, 0.8) // 1.6088 µm
 */
export function idealRa(feedMm: number, noseRadiusMm: number, options: NoseOptions = {}): number {
  const angle = halfArcAngle(feedMm, noseRadiusMm, options);
  if (options.formula === "usual") {
    return (micrometresPerMillimetre * feedMm ** 2) / (18 * Math.sqrt(3) * noseRadiusMm);
  }
  // Below the mean line lies the segment of the circle of half angle φ where the cusp crosses it; Ra is twice the area of
  // this segment (r²·(2φ − sin 2φ)/2) by the feed.
  const mean = meanHeightByRadius(angle);
  const crossing = Math.asin(Math.sqrt(mean * (2 - mean)));
  return (micrometresPerMillimetre * noseRadiusMm ** 2 * arcLessSine(2 * crossing)) / feedMm;
}

/**
 * Ideal Rq (root mean square) in µm for a nose radius in mm at a feed in mm; see {@link idealHeight} for which feed, and
 * what is refused. Exact by integrating the circular cusp (relative error below 1e-14); usual: f²/(12√5·r).
 * Source: geometry.
 *
 * @example idealRq(0.2, 0.8, { formula: "usual" }) // 1.8634 µm
 */
export function idealRq(feedMm: number, noseRadiusMm: number, options: NoseOptions = {}): number {
  const angle = halfArcAngle(feedMm, noseRadiusMm, options);
  if (options.formula === "usual") {
    return (micrometresPerMillimetre * feedMm ** 2) / (12 * Math.sqrt(5) * noseRadiusMm);
  }
  const mean = meanHeightByRadius(angle);
  // Along the arc angle t the place is r·sin t, so that the integrand is smooth even where the circle stands upright.
  const integral = gaussLegendre(0, angle, (t) => (2 * Math.sin(t / 2) ** 2 - mean) ** 2 * Math.cos(t));
  return micrometresPerMillimetre * noseRadiusMm * Math.sqrt(integral / Math.sin(angle));
}

/** Mean height of the cusp over its bottom, by the radius, for half an arc of θ: (2 sin θ − sin θ cos θ − θ)/(2 sin θ). */
function meanHeightByRadius(angle: number): number {
  return (arcLessSine(2 * angle) / 2 - 2 * arcLessSine(angle)) / (2 * Math.sin(angle));
}
