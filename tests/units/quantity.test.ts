import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  compare,
  inUnit,
  quantity,
  subtract,
  times,
  UnitError,
  valueIn,
} from "../../src/units/index.ts";
import type { Quantity } from "../../src/units/index.ts";

describe("quantities", () => {
  it("adds and subtracts lengths of any unit exactly, in the unit of the first", () => {
    expect(add(quantity(1, "mm"), quantity(5, "µm"))).toEqual(quantity(1.005, "mm"));
    expect(add(quantity(0.1, "mm"), quantity(200, "µm"))).toEqual(quantity(0.3, "mm")); // 0.1 + 0.2 in doubles is not
    expect(subtract(quantity(1, "in"), quantity(25.4, "mm"))).toEqual(quantity(0, "in"));
    expect(subtract(quantity(1, "in"), quantity(0.4, "mm")).value).toBe(0.984251968503937); // 1 − 0.4/25.4
  });

  it("multiplies a quantity exactly", () => {
    expect(times(quantity(0.1, "mm/rev"), 3)).toEqual(quantity(0.3, "mm/rev"));
  });

  it("holds 1 in and 25.4 mm for equal, and orders the rest", () => {
    expect(compare(quantity(1, "in"), quantity(25.4, "mm"))).toBe(0);
    expect(compare(quantity(1, "in"), quantity(25.3, "mm"))).toBe(1);
    expect(compare(quantity(0.7, "µm"), quantity(31, "µin"))).toBe(-1);
  });

  it("orders the same from either side", () => {
    const length = fc.tuple(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.constantFrom("mm", "in", "µin", "µm"),
    );
    fc.assert(
      fc.property(length, length, ([a, unitA], [b, unitB]) => {
        const [first, second] = [quantity(a, unitA as "mm"), quantity(b, unitB as "in")];
        expect(compare(first, second) + compare(second, first)).toBe(0);
      }),
      { seed: 36 },
    );
  });

  it("tells its value in another unit", () => {
    expect(valueIn(quantity(31, "µin"), "µm")).toBe(0.7874);
    expect(inUnit(quantity(31, "µin"), "µm")).toEqual(quantity(0.7874, "µm"));
  });

  it("refuses at run time what the compiler could not see", () => {
    const [length, speed]: readonly Quantity[] = [quantity(1, "mm"), quantity(1000, "rev/min")];
    if (length === undefined || speed === undefined) throw new Error("two quantities");
    const message =
      "rev/min measures spindle speed and mm measures length: one can't be turned into the other. Give a unit of length.";
    expect(() => add(length, speed)).toThrow(new UnitError("mismatch", message));
    expect(() => subtract(length, speed)).toThrow(UnitError);
    expect(() => compare(length, speed)).toThrow(UnitError);
    expect(() => valueIn(length, "rev/min")).toThrow(UnitError);
  });

  it("refuses sums of temperatures and numbers that are not finite", () => {
    expect(() => add(quantity(20, "°C"), quantity(20, "°C"))).toThrow(
      "Temperatures can't be added: the zero of °C and of °F is a convention. Convert to K and work with the numbers.",
    );
    expect(() => quantity(Number.NaN, "mm")).toThrow(
      "A quantity needs a finite number; got NaN for a number of mm.",
    );
    expect(() => times(quantity(1, "mm"), Infinity)).toThrow(
      "A quantity needs a finite number; got Infinity",
    );
    expect(() => times(quantity(1e300, "mm"), 1e300)).toThrow("The result is too large for a number of mm.");
  });

  it("changes nothing that it is given", () => {
    const [a, b] = [Object.freeze(quantity(1, "mm")), Object.freeze(quantity(5, "µm"))];
    expect(add(a, b).value).toBe(1.005);
    expect([a.value, b.value]).toEqual([1, 5]);
  });
});
