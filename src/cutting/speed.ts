import { checkPositive } from "./error.ts";

/**
 * Surface speed in m/min of a diameter in mm at a spindle speed in rev/min: v = π·D·n/1000. The diameter is that of the
 * cutter in milling and of the workpiece in turning. Refused: sizes that are not finite and above zero.
 * Source: ISO 3002-1 (from memory).
 *
 * @example surfaceSpeed({ diameterMm: 80, spindleSpeedRevPerMin: 1000 }) // 251.327 m/min
 */
export function surfaceSpeed(given: {
  readonly diameterMm: number;
  readonly spindleSpeedRevPerMin: number;
}): number {
  checkPositive(given);
  return (Math.PI * given.diameterMm * given.spindleSpeedRevPerMin) / 1000;
}

/**
 * Spindle speed in rev/min that gives a surface speed in m/min at a diameter in mm: n = 1000·v/(π·D).
 * Refused: sizes that are not finite and above zero. Source: ISO 3002-1 (from memory).
 *
 * @example spindleSpeed({ diameterMm: 80, surfaceSpeedMPerMin: 251.327 }) // 1000 rev/min
 */
export function spindleSpeed(given: {
  readonly diameterMm: number;
  readonly surfaceSpeedMPerMin: number;
}): number {
  checkPositive(given);
  return (1000 * given.surfaceSpeedMPerMin) / (Math.PI * given.diameterMm);
}

/** Feed by the revolution, or by the tooth with the number of teeth. */
export type Feed =
  { readonly feedMmPerRev: number } | { readonly feedMmPerTooth: number; readonly teeth: number };

/**
 * Feed speed in mm/min: v_f = f·n for a feed per revolution, v_f = f_z·z·n for a feed per tooth.
 * Refused: sizes that are not finite and above zero. Source: ISO 3002-1 (from memory).
 *
 * @example feedSpeed({ feedMmPerTooth: 0.1, teeth: 4, spindleSpeedRevPerMin: 1000 }) // 400 mm/min
 */
export function feedSpeed(given: Feed & { readonly spindleSpeedRevPerMin: number }): number {
  checkPositive(given);
  const feedMmPerRev = "feedMmPerRev" in given ? given.feedMmPerRev : given.feedMmPerTooth * given.teeth;
  return feedMmPerRev * given.spindleSpeedRevPerMin;
}
