import { checkEdgeAngle, checkPositive } from "./error.ts";

/** Feed and edge angles of a tool whose nose radius is small beside the feed. */
export interface SharpCorner {
  readonly feedMm: number;
  /** Between the leading (major) edge and the feed direction. */
  readonly majorEdgeAngleDegrees: number;
  /** Between the trailing (minor) edge and the feed direction. */
  readonly minorEdgeAngleDegrees: number;
}

/**
 * Ideal height of the feed marks in µm of a sharp corner: Rt = f/(cot κ + cot κ′).
 * Refused: a feed not above zero, angles outside 0° to 90°. Source: geometry of the triangle.
 *
 * @example sharpCornerHeight({ feedMm: 0.2, majorEdgeAngleDegrees: 45, minorEdgeAngleDegrees: 15 }) // 42.265 µm
 */
export function sharpCornerHeight({
  feedMm,
  majorEdgeAngleDegrees,
  minorEdgeAngleDegrees,
}: SharpCorner): number {
  checkPositive({ feedMm });
  checkEdgeAngle({ majorEdgeAngleDegrees, minorEdgeAngleDegrees });
  return (1000 * feedMm) / (cotangent(majorEdgeAngleDegrees) + cotangent(minorEdgeAngleDegrees));
}

/**
 * Ideal Ra in µm of a sharp corner: Rt/4, as of every triangle. Refused as by {@link sharpCornerHeight}.
 *
 * @example sharpCornerRa({ feedMm: 0.2, majorEdgeAngleDegrees: 45, minorEdgeAngleDegrees: 15 }) // 10.566 µm
 */
export function sharpCornerRa(corner: SharpCorner): number {
  return sharpCornerHeight(corner) / 4;
}

function cotangent(degrees: number): number {
  const radians = (degrees * Math.PI) / 180;
  return Math.cos(radians) / Math.sin(radians);
}
