import { LayoutError } from "../error.ts";

export interface CompositeSize {
  readonly factors: number;
  /** Runs of the cube. */
  readonly corners: number;
  readonly centreInCube: number;
  readonly centreInAxial: number;
  readonly blocks: number;
}

/**
 * How far out the axial runs of a central composite layout stand, the cube at ±1.
 * Rotatable: corners to the power ¼ (Box and Hunter, Annals of Mathematical Statistics 28, 1957, 195–241). Spherical: √k,
 * as far as the corners. Block-orthogonal: √(F(2k + n_a) / 2(F + n_c)), F corners, n_a and n_c centre runs with the axial
 * and with the cube part (same source). Face: 1.
 */
export function axialDistance(
  axial: "rotatable" | "face" | "block-orthogonal" | "spherical" | number,
  size: CompositeSize,
): number {
  const { factors, corners, centreInCube, centreInAxial, blocks } = size;
  switch (axial) {
    case "face":
      return 1;
    case "rotatable":
      return corners ** 0.25;
    case "spherical":
      return Math.sqrt(factors);
    case "block-orthogonal":
      if (blocks < 2) {
        throw new LayoutError(
          'layout.axial: "block-orthogonal" needs the axial runs in a block of their own. Set "blocks" to 2, or take "rotatable".',
        );
      }
      return Math.sqrt((corners * (2 * factors + centreInAxial)) / (2 * (corners + centreInCube)));
    default:
      return axial;
  }
}
