import { checkNotNegative, checkPositive } from "./error.ts";

/**
 * Minutes of one pass at feed speed: (length + approach + overtravel)/v_f. Lengths in mm, feed speed in mm/min; approach
 * and overtravel are 0 where they are left out. Rapid moves are not in it.
 * Refused: a length or feed speed that is not above zero, a negative approach or overtravel. Source: common practice.
 *
 * @example passTime({ lengthMm: 180, approachMm: 40, overtravelMm: 5, feedSpeedMmPerMin: 450 }) // 0.5 min
 */
export function passTime(given: {
  readonly lengthMm: number;
  readonly feedSpeedMmPerMin: number;
  readonly approachMm?: number;
  readonly overtravelMm?: number;
}): number {
  const { lengthMm, feedSpeedMmPerMin, approachMm = 0, overtravelMm = 0 } = given;
  checkPositive({ lengthMm, feedSpeedMmPerMin });
  checkNotNegative({ approachMm, overtravelMm });
  return (lengthMm + approachMm + overtravelMm) / feedSpeedMmPerMin;
}

/**
 * The approach of a face mill whose centre line runs along the middle of the face, in mm: half its diameter, from the
 * first touch of the rim to the spindle axis over the edge. Refused: a diameter that is not finite and above zero.
 * Source: common practice.
 *
 * @example faceMillApproach(80) // 40 mm
 */
export function faceMillApproach(diameterMm: number): number {
  checkPositive({ diameterMm });
  return diameterMm / 2;
}
