import { entryOf } from "./unit-table.ts";
import type { UnitName } from "./unit-table.ts";

/** The two systems that shops work in. */
export type UnitSystem = "metric" | "inch";

/** The unit that a reader of the other system expects in the place of each; units missing here serve both. */
const counterparts: Readonly<Partial<Record<UnitName, UnitName>>> = {
  nm: "µin",
  µm: "µin",
  mm: "in",
  cm: "in",
  m: "ft",
  µin: "µm",
  thou: "mm",
  in: "mm",
  ft: "m",
  "mm²": "in²",
  "cm²": "in²",
  "in²": "mm²",
  "mm³": "in³",
  "cm³": "in³",
  L: "in³",
  "in³": "cm³",
  "µm/rev": "thou/rev",
  "mm/rev": "in/rev",
  "thou/rev": "mm/rev",
  "in/rev": "mm/rev",
  "µm/tooth": "thou/tooth",
  "mm/tooth": "in/tooth",
  "thou/tooth": "mm/tooth",
  "in/tooth": "mm/tooth",
  "mm/min": "in/min",
  "m/min": "ft/min",
  "mm/s": "in/s",
  "m/s": "ft/min",
  "in/min": "mm/min",
  "in/s": "mm/s",
  "ft/min": "m/min",
  "mm³/min": "in³/min",
  "cm³/min": "in³/min",
  "L/min": "in³/min",
  "in³/min": "cm³/min",
  g: "oz",
  kg: "lb",
  oz: "g",
  lb: "kg",
  "g/cm³": "lb/in³",
  "kg/m³": "lb/in³",
  "lb/in³": "g/cm³",
  N: "lbf",
  kN: "lbf",
  lbf: "N",
  Pa: "psi",
  kPa: "psi",
  MPa: "psi",
  GPa: "ksi",
  "N/mm²": "psi",
  bar: "psi",
  psi: "MPa",
  ksi: "MPa",
  "N·m": "lbf·ft",
  "N·cm": "lbf·in",
  "lbf·ft": "N·m",
  "lbf·in": "N·m",
  W: "hp",
  kW: "hp",
  hp: "kW",
  K: "°F",
  "°C": "°F",
  "°F": "°C",
};

/**
 * The unit in which a system shows what was given in `unit`: µin for µm in the inch system. A unit that belongs to the
 * system, or to both (rev/min, s, %), stays.
 *
 * @example unitIn("mm/rev", "inch") // "in/rev"
 */
export function unitIn(unit: UnitName, system: UnitSystem): UnitName {
  return entryOf(unit).system === system ? unit : (counterparts[unit] ?? unit);
}

/** The unit of the other system; the same unit where both share it. */
export function unitInOtherSystem(unit: UnitName): UnitName {
  return counterparts[unit] ?? unit;
}
