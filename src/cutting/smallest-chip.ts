import { checkPositive } from "./error.ts";

/** A finishing cut whose feed comes near the smallest chip that the edge can take off. */
export interface SmallestChip {
  readonly noseRadiusMm: number;
  /** The thinnest chip that forms; below it the edge ploughs. In mm, a fraction of the edge's own rounding. */
  readonly smallestChipMm: number;
}

/**
 * Height of the feed marks in µm where material thinner than the smallest chip is pushed aside instead of cut:
 * Rt ≈ f²/(8r) + (h_min/2)·(1 + r·h_min/f²). Below some feed the finish gets no better. An estimate: real values of h_min are
 * seldom known, so use it to understand a flat response and not to predict one.
 * Refused: sizes that are not finite and above zero. Source: Brammertz 1961 (from memory).
 *
 * @example smallestChipHeight(0.05, { noseRadiusMm: 0.8, smallestChipMm: 0.002 }) // 2.031 µm
 */
export function smallestChipHeight(feedMm: number, chip: SmallestChip): number {
  checkPositive({ feedMm, ...chip });
  const { noseRadiusMm, smallestChipMm } = chip;
  const ploughed = (smallestChipMm / 2) * (1 + (noseRadiusMm * smallestChipMm) / feedMm ** 2);
  return 1000 * (feedMm ** 2 / (8 * noseRadiusMm) + ploughed);
}

/**
 * The feed in mm at which {@link smallestChipHeight} is least: √(2·r·h_min), where the height is h_min itself. A smaller feed
 * only costs time. Source: the derivative of the formula above.
 *
 * @example feedOfLeastHeight({ noseRadiusMm: 0.8, smallestChipMm: 0.002 }) // 0.0566 mm
 */
export function feedOfLeastHeight(chip: SmallestChip): number {
  checkPositive({ ...chip });
  return Math.sqrt(2 * chip.noseRadiusMm * chip.smallestChipMm);
}
