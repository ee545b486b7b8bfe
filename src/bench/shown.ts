import type { TrialSpec } from "../trial/index.ts";
import { formatQuantity, quantity, type UnitName } from "../units/index.ts";

/** A quantity in the unit of the trial's display system. */
export function shown(spec: Pick<TrialSpec, "display">, value: number, unit: UnitName, digits = 3): string {
  return formatQuantity(quantity(value, unit), { system: spec.display, digits });
}
