import { UnitError } from "./error.ts";
import { added, divided, multiplied, nearestDouble, rationalFromDouble, subtracted } from "./rational.ts";
import type { Rational } from "./rational.ts";
import { dimensionOf, entryOf } from "./unit-table.ts";
import type { DimensionOf, UnitName, UnitOf } from "./unit-table.ts";

/**
 * A value in another unit of the same dimension. The factor is an exact fraction of whole numbers (1 in = 127/5 mm), and
 * the result is the double nearest to the exact product. A value whose shortest decimal form has at most 15 digits is
 * taken to be that decimal (0.7 in is 17.78 mm to the last bit); any other is taken at its exact binary value.
 *
 * Refused: a value that is not finite, a result that no double can hold, and units of different dimensions (also by the compiler, where it knows them).
 * Source of the factors: see `unitTable`.
 *
 * @example convert(1, "µin", "µm") // 0.0254
 */
export function convert<U extends UnitName>(
  value: number,
  from: U,
  to: UnitOf<DimensionOf<NoInfer<U>>>,
): number {
  return converted(value, from, to);
}

/** What `convert` does, where the compiler does not know the units. */
export function converted(value: number, from: UnitName, to: UnitName): number {
  checkFinite(value, from);
  checkSameDimension(from, to);
  if (from === to) return value;
  const { factor, offset } = conversion(from, to);
  const result = shortRoad(value, factor, offset) ?? longRoad(value, factor, offset);
  if (Number.isFinite(result)) return result;
  throw new UnitError("not-computable", `${value} ${from} is too large for a number of ${to}.`);
}

/** The exact value of a number of one unit in another of the same dimension. */
export function exactlyIn(value: Rational, from: UnitName, to: UnitName): Rational {
  if (from === to) return value;
  const { factor, offset } = conversion(from, to);
  return added(multiplied(value, factor), offset);
}

/** How much a difference of one `from` is in `to`: leaves the zero points of temperature scales out. */
export function convertDifference(value: number, from: UnitName, to: UnitName): number {
  if (from === to) return value;
  return nearestDouble(multiplied(rationalFromDouble(value), conversion(from, to).factor));
}

export function checkFinite(value: number, unit: UnitName): void {
  if (Number.isFinite(value)) return;
  throw new UnitError(
    "not-computable",
    `A quantity needs a finite number; got ${value} for a number of ${unit}.`,
  );
}

export function checkSameDimension(from: UnitName, to: UnitName): void {
  if (dimensionOf(from) === dimensionOf(to)) return;
  throw new UnitError(
    "mismatch",
    `${from} measures ${dimensionOf(from)} and ${to} measures ${dimensionOf(to)}: one can't be turned into the other. ` +
      `Give a unit of ${dimensionOf(to)}.`,
  );
}

interface Conversion {
  readonly factor: Rational;
  readonly offset: Rational;
}

// A fixed function of the table, kept because the greatest common divisors in it cost more than the conversion.
const conversions = new Map<string, Conversion>();

function conversion(from: UnitName, to: UnitName): Conversion {
  const key = `${from}>${to}`;
  const known = conversions.get(key);
  if (known !== undefined) return known;
  const source = entryOf(from);
  const target = entryOf(to);
  const made = {
    factor: divided(source.factor, target.factor),
    offset: divided(subtracted(source.offset, target.offset), target.factor),
  };
  conversions.set(key, made);
  return made;
}

/**
 * For a decimal m/10ᵏ times a fraction a/b, the quotient (m·a)/(b·10ᵏ) of two whole numbers that doubles hold exactly
 * needs one division, which IEEE 754 rounds correctly: the same answer as the long road, thirty times as fast.
 */
function shortRoad(value: number, factor: Rational, offset: Rational): number | null {
  if (offset.numerator !== 0n) return null;
  const [whole = "", fraction = ""] = String(value).split(".");
  if (fraction.includes("e") || whole.includes("e") || whole.length + fraction.length > 15) return null;
  const top = Number(whole + fraction) * Number(factor.numerator);
  const bottom = Number(factor.denominator) * 10 ** fraction.length;
  return Math.abs(top) <= Number.MAX_SAFE_INTEGER && bottom <= Number.MAX_SAFE_INTEGER ? top / bottom : null;
}

function longRoad(value: number, factor: Rational, offset: Rational): number {
  return nearestDouble(added(multiplied(rationalFromDouble(value), factor), offset));
}
