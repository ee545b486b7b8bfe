import { divided, multiplied, rationalFromDecimal, zero } from "./rational.ts";
import type { Rational } from "./rational.ts";

/** What a unit measures. Quantities of different dimensions can't be added, compared or converted into each other. */
export type Dimension =
  | "length"
  | "area"
  | "volume"
  | "feed per revolution"
  | "feed per tooth"
  | "spindle speed"
  | "speed"
  | "acceleration"
  | "removal rate"
  | "time"
  | "frequency"
  | "angle"
  | "mass"
  | "density"
  | "force"
  | "pressure"
  | "torque"
  | "power"
  | "energy"
  | "temperature"
  | "current"
  | "Rockwell C hardness"
  | "Brinell hardness"
  | "Vickers hardness"
  | "ratio";

export interface UnitEntry<D extends Dimension = Dimension> {
  readonly dimension: D;
  /** How many base units of the dimension one of this unit is, exactly. */
  readonly factor: Rational;
  /** What the base unit shows at this unit's zero (temperatures). */
  readonly offset: Rational;
  readonly system: "metric" | "inch" | "neutral";
}

// π to 60 decimals: enough that an angle converted with it and rounded to a double is the double nearest the true one.
const pi = "3.141592653589793238462643383279502884197169399375105820974945";

/** "0.3048/60": decimals joined by * and /, worked out exactly. */
function exactly(expression: string): Rational {
  const parts = expression.split(/(?=[*/])/);
  return parts.reduce<Rational>(
    (product, part) => {
      const factor = rationalFromDecimal(part.replace(/^[*/]/, ""));
      return part.startsWith("/") ? divided(product, factor) : multiplied(product, factor);
    },
    { numerator: 1n, denominator: 1n },
  );
}

const metric = <D extends Dimension>(dimension: D, factor: string): UnitEntry<D> =>
  Object.freeze({ dimension, factor: exactly(factor), offset: zero, system: "metric" });
const inch = <D extends Dimension>(dimension: D, factor: string): UnitEntry<D> =>
  Object.freeze({ dimension, factor: exactly(factor), offset: zero, system: "inch" });
const neutral = <D extends Dimension>(dimension: D, factor: string): UnitEntry<D> =>
  Object.freeze({ dimension, factor: exactly(factor), offset: zero, system: "neutral" });

/**
 * Every unit, with its exact size in the base unit of its dimension (metre, kilogram, second and what follows from them;
 * a revolution, a tooth and 1 stand for themselves).
 *
 * Exact by definition: inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg (international yard and pound agreement, 1959);
 * pound-force = pound × 9.80665 m/s² (standard gravity, CGPM 1901); psi = lbf/in²; hp = 550 ft·lbf/s;
 * °F = K × 9/5 − 459.67; bar = 10⁵ Pa (NIST SP 811, appendix B).
 */
export const unitTable = {
  nm: metric("length", "0.000000001"),
  µm: metric("length", "0.000001"),
  mm: metric("length", "0.001"),
  cm: metric("length", "0.01"),
  m: metric("length", "1"),
  µin: inch("length", "0.0000000254"),
  thou: inch("length", "0.0000254"),
  in: inch("length", "0.0254"),
  ft: inch("length", "0.3048"),

  "mm²": metric("area", "0.000001"),
  "cm²": metric("area", "0.0001"),
  "in²": inch("area", "0.0254*0.0254"),

  "mm³": metric("volume", "0.000000001"),
  "cm³": metric("volume", "0.000001"),
  L: metric("volume", "0.001"),
  "in³": inch("volume", "0.0254*0.0254*0.0254"),

  "µm/rev": metric("feed per revolution", "0.000001"),
  "mm/rev": metric("feed per revolution", "0.001"),
  "thou/rev": inch("feed per revolution", "0.0000254"),
  "in/rev": inch("feed per revolution", "0.0254"),

  "µm/tooth": metric("feed per tooth", "0.000001"),
  "mm/tooth": metric("feed per tooth", "0.001"),
  "thou/tooth": inch("feed per tooth", "0.0000254"),
  "in/tooth": inch("feed per tooth", "0.0254"),

  "rev/min": neutral("spindle speed", "1/60"),
  "rev/s": neutral("spindle speed", "1"),

  "mm/min": metric("speed", "0.001/60"),
  "m/min": metric("speed", "1/60"),
  "mm/s": metric("speed", "0.001"),
  "m/s": metric("speed", "1"),
  "in/min": inch("speed", "0.0254/60"),
  "in/s": inch("speed", "0.0254"),
  "ft/min": inch("speed", "0.3048/60"),

  "m/s²": metric("acceleration", "1"),

  "mm³/min": metric("removal rate", "0.000000001/60"),
  "cm³/min": metric("removal rate", "0.000001/60"),
  "L/min": metric("removal rate", "0.001/60"),
  "in³/min": inch("removal rate", "0.0254*0.0254*0.0254/60"),

  s: neutral("time", "1"),
  min: neutral("time", "60"),
  h: neutral("time", "3600"),

  Hz: neutral("frequency", "1"),
  kHz: neutral("frequency", "1000"),

  rad: neutral("angle", "1"),
  "°": neutral("angle", `${pi}/180`),

  g: metric("mass", "0.001"),
  kg: metric("mass", "1"),
  oz: inch("mass", "0.45359237/16"),
  lb: inch("mass", "0.45359237"),

  "g/cm³": metric("density", "1000"),
  "kg/m³": metric("density", "1"),
  "lb/in³": inch("density", "0.45359237/0.0254/0.0254/0.0254"),

  N: metric("force", "1"),
  kN: metric("force", "1000"),
  lbf: inch("force", "0.45359237*9.80665"),

  Pa: metric("pressure", "1"),
  kPa: metric("pressure", "1000"),
  MPa: metric("pressure", "1000000"),
  GPa: metric("pressure", "1000000000"),
  "N/mm²": metric("pressure", "1000000"),
  bar: metric("pressure", "100000"),
  psi: inch("pressure", "0.45359237*9.80665/0.0254/0.0254"),
  ksi: inch("pressure", "1000*0.45359237*9.80665/0.0254/0.0254"),

  "N·m": metric("torque", "1"),
  "N·cm": metric("torque", "0.01"),
  "lbf·ft": inch("torque", "0.45359237*9.80665*0.3048"),
  "lbf·in": inch("torque", "0.45359237*9.80665*0.0254"),

  W: metric("power", "1"),
  kW: metric("power", "1000"),
  hp: inch("power", "550*0.45359237*9.80665*0.3048"),

  J: metric("energy", "1"),
  kJ: metric("energy", "1000"),
  kWh: metric("energy", "3600000"),

  K: metric("temperature", "1"),
  "°C": withZeroAt("1", "273.15", "metric"),
  "°F": withZeroAt("5/9", "459.67*5/9", "inch"),

  A: neutral("current", "1"),

  HRC: neutral("Rockwell C hardness", "1"),
  HB: neutral("Brinell hardness", "1"),
  HV: neutral("Vickers hardness", "1"),

  "1": neutral("ratio", "1"),
  "%": neutral("ratio", "0.01"),
  "mm/m": neutral("ratio", "0.001"),
  "µm/m": neutral("ratio", "0.000001"),
};

function withZeroAt(factor: string, zeroAt: string, system: "metric" | "inch"): UnitEntry<"temperature"> {
  return Object.freeze({
    dimension: "temperature",
    factor: exactly(factor),
    offset: exactly(zeroAt),
    system,
  });
}

/** A unit by its one canonical name: the way it is written in files and on pages. */
export type UnitName = keyof typeof unitTable;

/** The dimension of a unit, at compile time: `DimensionOf<"µm">` is `"length"`. */
export type DimensionOf<U extends UnitName> = (typeof unitTable)[U]["dimension"];

/** The units of each dimension, at compile time. */
type UnitsByDimension = {
  [D in Dimension]: { [U in UnitName]: DimensionOf<U> extends D ? U : never }[UnitName];
};

/** The units of a dimension, at compile time: `UnitOf<"time">` is `"s" | "min" | "h"`. */
export type UnitOf<D extends Dimension> = UnitsByDimension[D];

export const unitNames: readonly UnitName[] = Object.freeze(Object.keys(unitTable) as UnitName[]);

/** Whether a text is a unit's canonical name. For what people type use `parseUnit`. */
export function isUnit(text: string): text is UnitName {
  return Object.hasOwn(unitTable, text);
}

export function entryOf(unit: UnitName): UnitEntry {
  return unitTable[unit];
}

/**
 * What a unit measures.
 *
 * @example dimensionOf("mm/rev") // "feed per revolution"
 */
export function dimensionOf<U extends UnitName>(unit: U): DimensionOf<U> {
  return unitTable[unit].dimension;
}
