import { checkEdgeAngle, checkPositive, CuttingError } from "./error.ts";

/** The tool corner as the feed marks see it. */
export interface NoseOptions {
  /** `exact` follows the circle; `usual` takes a parabola for it, as handbooks do. Default `exact`. */
  readonly formula?: "exact" | "usual";
  /**
   * Angle in degrees between the trailing (minor) edge and the feed direction. Where it is given, the feed must leave
   * marks of the nose arc alone: f ≤ 2·r·sin κ′. Where it is not, the arc is taken to be a half circle.
   */
  readonly minorEdgeAngleDegrees?: number;
}

/**
 * Half the angle of nose arc that one feed uses, in radians: asin(f/(2r)). The circle is met by the trailing edge at
 * the sideways distance r·sin κ′ from its lowest point; a feed that reaches past it leaves a mark of the straight edge
 * too, and no formula for an arc holds.
 */
export function halfArcAngle(
  feedMm: number,
  noseRadiusMm: number,
  { minorEdgeAngleDegrees }: NoseOptions,
): number {
  checkPositive({ feedMm, noseRadiusMm });
  if (minorEdgeAngleDegrees !== undefined) checkEdgeAngle({ minorEdgeAngleDegrees });
  const limitMm = largestFeedOnNoseArc(noseRadiusMm, minorEdgeAngleDegrees);
  if (feedMm > limitMm) {
    const arc =
      minorEdgeAngleDegrees === undefined ? "a half circle" : `trailing edge at ${minorEdgeAngleDegrees}°`;
    throw new CuttingError(
      `Feed ${feedMm} mm passes the nose arc: radius ${noseRadiusMm} mm (${arc}) leaves arcs up to ${Number(limitMm.toPrecision(4))} mm. ` +
        "Past it the straight edges leave their marks: lower the feed, take a larger nose radius, or use the sharp-corner formula.",
    );
  }
  return Math.asin(Math.min(feedMm / (2 * noseRadiusMm), 1));
}

/**
 * The largest feed in mm whose marks are left by the nose arc alone: 2·r·sin κ′, or 2·r where the angle of the trailing
 * edge is not known. Source: geometry.
 *
 * @example largestFeedOnNoseArc(0.8, 5) // 0.1394 mm
 */
export function largestFeedOnNoseArc(noseRadiusMm: number, minorEdgeAngleDegrees = 90): number {
  checkPositive({ noseRadiusMm });
  checkEdgeAngle({ minorEdgeAngleDegrees });
  return (
    2 * noseRadiusMm * (minorEdgeAngleDegrees === 90 ? 1 : Math.sin((minorEdgeAngleDegrees * Math.PI) / 180))
  );
}

/** x − sin x without the loss of digits that plain subtraction brings at small x. For 0 ≤ x ≤ π. */
export function arcLessSine(x: number): number {
  if (x > 1) return x - Math.sin(x);
  // x³/3! − x⁵/5! + …, by Horner; ten terms leave less than 1e-20 of the sum at x = 1.
  let sum = 1;
  for (let term = 10; term >= 1; term -= 1) sum = 1 - (sum * x * x) / ((2 * term + 2) * (2 * term + 3));
  return (x * x * x * sum) / 6;
}
