import { dimensionOf, isUnit } from "./unit-table.ts";
import type { Dimension, UnitName } from "./unit-table.ts";

/** Units that are often written for one of another dimension. */
const slips: Readonly<Partial<Record<UnitName, readonly UnitName[]>>> = {
  lb: ["lbf"],
  lbf: ["lb"],
  kg: ["N"],
  m: ["min"],
  s: ["°"],
  Hz: ["rev/s"],
  "mm/min": ["mm/rev"],
  "in/min": ["in/rev"],
  "°": ["°C", "°F"],
};

/**
 * What a unit of the wrong dimension was probably meant to be, in the expected dimension: a feed written as a length
 * ("0.25 mm" for 0.25 mm/rev), a feed per tooth for one per revolution, pounds for pounds-force. Offered, never assumed.
 */
export function probableMeanings(typed: UnitName, expected: Dimension): readonly UnitName[] {
  const length = typed.split("/")[0] ?? typed;
  const sameLength = [length, `${length}/rev`, `${length}/tooth`, `${length}/min`].filter(isUnit);
  return [...new Set([...sameLength, ...(slips[typed] ?? [])])].filter(
    (unit) => unit !== typed && dimensionOf(unit) === expected && unit !== "s",
  );
}
