import { checkNotNegative, checkPositive, CuttingError } from "./error.ts";

/**
 * Depth in µm of the hollow that a face mill leaves across its path when the spindle is tilted along the feed:
 * θ·(D/2 − √((D/2)² − (w/2)²)), the tilt θ as a slope (0.02 mm in 300 mm is 0.02/300), cutter diameter D and width cut w
 * in mm, path centred. Refused: sizes not above zero; a face wider than the cutter. Source: geometry, for small tilts.
 *
 * @example dishFromTilt({ tiltSlope: 0.02 / 300, diameterMm: 200, widthMm: 150 }) // 2.26 µm
 */
export function dishFromTilt(given: {
  readonly tiltSlope: number;
  readonly diameterMm: number;
  readonly widthMm: number;
}): number {
  const { tiltSlope, diameterMm, widthMm } = given;
  checkNotNegative({ tiltSlope });
  checkPositive({ diameterMm, widthMm });
  if (widthMm > diameterMm) {
    throw new CuttingError(
      `A width of ${widthMm} mm is more than the cutter's ${diameterMm} mm. Give the width that one path cuts, or the larger cutter.`,
    );
  }
  const [radius, half] = [diameterMm / 2, widthMm / 2];
  // radius − √(radius² − half²) with the root moved below the line, so that narrow paths keep their digits.
  return (1000 * tiltSlope * half ** 2) / (radius + Math.sqrt(radius ** 2 - half ** 2));
}
