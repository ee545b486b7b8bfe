import { checkPositive } from "./error.ts";

/**
 * Material removed in milling, in cm³/min: Q = a_p·a_e·v_f, with depth and width of cut in mm and feed speed in mm/min.
 * Refused: sizes that are not finite and above zero. Source: ISO 3002-4 (from memory).
 *
 * @example millingRemovalRate({ depthMm: 0.5, widthMm: 60, feedSpeedMmPerMin: 400 }) // 12 cm³/min
 */
export function millingRemovalRate(given: {
  readonly depthMm: number;
  readonly widthMm: number;
  readonly feedSpeedMmPerMin: number;
}): number {
  checkPositive(given);
  return (given.depthMm * given.widthMm * given.feedSpeedMmPerMin) / 1000;
}

/**
 * Material removed in turning, in cm³/min: Q = a_p·f·v, with depth in mm, feed in mm/rev and surface speed in m/min (the
 * thousands of mm in m and of mm³ in cm³ cancel). Refused: sizes that are not finite and above zero.
 * Source: ISO 3002-4 (from memory).
 *
 * @example turningRemovalRate({ depthMm: 0.5, feedMmPerRev: 0.2, surfaceSpeedMPerMin: 200 }) // 20 cm³/min
 */
export function turningRemovalRate(given: {
  readonly depthMm: number;
  readonly feedMmPerRev: number;
  readonly surfaceSpeedMPerMin: number;
}): number {
  checkPositive(given);
  return given.depthMm * given.feedMmPerRev * given.surfaceSpeedMPerMin;
}
