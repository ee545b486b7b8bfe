import type { Dimension, UnitOf } from "./unit-table.ts";

/** A number with its unit. Adding a length to a spindle speed does not compile, and is refused where the compiler can't see it. */
export interface Quantity<D extends Dimension = Dimension> {
  readonly value: number;
  readonly unit: UnitOf<D>;
  readonly dimension: D;
}
