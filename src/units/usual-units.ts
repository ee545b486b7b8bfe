import type { Dimension, UnitName } from "./unit-table.ts";
import { dimensionOf, unitNames } from "./unit-table.ts";

/** The units that a shop writes most, where a number came without one; other dimensions offer all that they have. */
const usual: Readonly<Partial<Record<Dimension | "roughness", readonly UnitName[]>>> = {
  roughness: ["µm", "µin"],
  length: ["mm", "in", "µm", "µin"],
  "feed per revolution": ["mm/rev", "in/rev"],
  "feed per tooth": ["mm/tooth", "in/tooth"],
  "spindle speed": ["rev/min"],
  speed: ["m/min", "ft/min", "mm/min", "in/min"],
  "removal rate": ["cm³/min", "in³/min"],
  time: ["min", "s"],
  volume: ["cm³", "in³"],
  mass: ["g", "lb"],
  force: ["N", "lbf"],
  pressure: ["MPa", "psi"],
  torque: ["N·m", "lbf·ft"],
  power: ["kW", "hp"],
  angle: ["°"],
};

/** The units to offer for a dimension; those of a length and a roughness where nothing is known. */
export function usualUnits(dimension: Dimension | "roughness" | undefined): readonly UnitName[] {
  if (dimension === undefined) return ["µm", "µin", "mm", "in"];
  return usual[dimension] ?? unitNames.filter((unit) => dimensionOf(unit) === dimension);
}
