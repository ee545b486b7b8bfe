import { checkFinite, checkSameDimension, converted, exactlyIn } from "./convert.ts";
import { UnitError } from "./error.ts";
import { added, multiplied, nearestDouble, rationalFromDouble, subtracted } from "./rational.ts";
import type { Rational } from "./rational.ts";
import { dimensionOf } from "./unit-table.ts";
import type { Quantity } from "./quantity.ts";
import type { Dimension, DimensionOf, UnitName, UnitOf } from "./unit-table.ts";

/**
 * A quantity from a finite number and a unit.
 *
 * @example quantity(0.8, "µm") // { value: 0.8, unit: "µm", dimension: "length" }
 */
export function quantity<U extends UnitName>(value: number, unit: U): Quantity<DimensionOf<U>> {
  checkFinite(value, unit);
  return made(value, unit, dimensionOf(unit));
}

/**
 * The sum, in the unit of the first; exact, then rounded once (0.1 mm + 200 µm is 0.3 mm).
 * Refused: different dimensions, and temperatures (20 °C + 20 °C means nothing: their scales start at different zeros).
 *
 * @example add(quantity(1, "mm"), quantity(5, "µm")) // 1.005 mm
 */
export function add<D extends Dimension>(a: Quantity<D>, b: Quantity<NoInfer<D>>): Quantity<D> {
  return combined(a, b, added, "added");
}

/**
 * The first less the second, in the unit of the first; exact, then rounded once. Refused as by `add`.
 *
 * @example subtract(quantity(1, "in"), quantity(0.4, "mm")) // 0.984251968503937 in
 */
export function subtract<D extends Dimension>(a: Quantity<D>, b: Quantity<NoInfer<D>>): Quantity<D> {
  return combined(a, b, subtracted, "subtracted");
}

/**
 * A quantity taken `factor` times, in its own unit. Refused: a factor that is not finite, and temperatures.
 *
 * @example times(quantity(0.1, "mm/rev"), 3) // 0.3 mm/rev
 */
export function times<D extends Dimension>(q: Quantity<D>, factor: number): Quantity<D> {
  checkFinite(factor, "1");
  refuseTemperature(q, "multiplied");
  return made(
    nearestDouble(multiplied(rationalFromDouble(q.value), rationalFromDouble(factor))),
    q.unit,
    q.dimension,
  );
}

/**
 * −1, 0 or 1 as the first is smaller than, equal to or larger than the second. Equal means equal after one of them is
 * converted to the other's unit and rounded, so that 25.4 mm and 1 in are equal. Refused: different dimensions.
 *
 * @example compare(quantity(1, "in"), quantity(25, "mm")) // 1
 */
export function compare<D extends Dimension>(a: Quantity<D>, b: Quantity<NoInfer<D>>): -1 | 0 | 1 {
  const inUnitOfA = valueIn<Dimension>(b, a.unit);
  if (a.value === inUnitOfA || valueIn<Dimension>(a, b.unit) === b.value) return 0;
  return a.value < inUnitOfA ? -1 : 1;
}

/**
 * The number of `unit` that a quantity is; see `convert` for exactness.
 *
 * @example valueIn(quantity(31, "µin"), "µm") // 0.7874
 */
export function valueIn<D extends Dimension>(q: Quantity<D>, unit: UnitOf<NoInfer<D>>): number {
  return converted(q.value, q.unit, unit);
}

/** The same quantity, written in another unit. */
export function inUnit<D extends Dimension>(q: Quantity<D>, unit: UnitOf<NoInfer<D>>): Quantity<D> {
  return made(valueIn(q, unit), unit, q.dimension);
}

function combined<D extends Dimension>(
  a: Quantity<D>,
  b: Quantity<D>,
  operation: (x: Rational, y: Rational) => Rational,
  verb: string,
): Quantity<D> {
  checkSameDimension(b.unit, a.unit);
  refuseTemperature(a, verb);
  const other = exactlyIn(rationalFromDouble(b.value), b.unit, a.unit);
  return made(nearestDouble(operation(rationalFromDouble(a.value), other)), a.unit, a.dimension);
}

function refuseTemperature(q: Quantity, verb: string): void {
  if (q.dimension !== "temperature") return;
  throw new UnitError(
    "not-computable",
    `Temperatures can't be ${verb}: the zero of °C and of °F is a convention. Convert to K and work with the numbers.`,
  );
}

function made<D extends Dimension>(value: number, unit: UnitName, dimension: Dimension): Quantity<D> {
  if (!Number.isFinite(value))
    throw new UnitError("not-computable", `The result is too large for a number of ${unit}.`);
  // The callers know that the unit belongs to the dimension; the compiler can't follow a table look-up.
  return { value, unit, dimension } as Quantity<D>;
}
