import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convert, convertDifference, dimensionOf, unitNames, UnitError } from "../../src/units/index.ts";
import type { UnitName } from "../../src/units/index.ts";

/** The compiler is told not to look: units as they come from a file. */
function convertAny(value: number, from: UnitName, to: UnitName): number {
  return convert(value, from, to);
}

const pairs = unitNames.flatMap((from) =>
  unitNames.filter((to) => dimensionOf(to) === dimensionOf(from)).map((to) => [from, to] as const),
);
const linear = pairs.filter(([from]) => dimensionOf(from) !== "temperature");

describe("convert", () => {
  it("holds to the definitions of 1959: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg", () => {
    expect(convert(1, "in", "mm")).toBe(25.4);
    expect(convert(1, "µin", "µm")).toBe(0.0254);
    expect(convert(1, "thou", "mm")).toBe(0.0254);
    expect(convert(1, "ft", "m")).toBe(0.3048);
    expect(convert(1, "lb", "kg")).toBe(0.45359237);
    expect(convert(1, "in³", "mm³")).toBe(16387.064);
  });

  it("holds to NIST SP 811: lbf, psi, hp, lbf·ft", () => {
    // SP 811 appendix B.8 marks 4.448 221 615 260 5 as exact for lbf; the others follow from it.
    expect(convert(1, "lbf", "N")).toBe(4.4482216152605);
    expect(convert(1, "psi", "Pa")).toBe(6894.757293168362); // 4.4482216152605 / 0.00064516, by Python's fractions
    expect(convert(1, "hp", "W")).toBe(745.6998715822702); // 550 × 0.3048 × 4.4482216152605 = 745.69987158227022
    expect(convert(1, "lbf·ft", "N·m")).toBe(1.3558179483314003); // 1.3558179483314004 exactly
  });

  it("takes a typed decimal for that decimal: 0.7 in is 17.78 mm to the last bit", () => {
    expect(0.7 * 25.4).not.toBe(17.78); // what a plain product gives
    expect(convert(0.7, "in", "mm")).toBe(17.78);
    expect(convert(0.0007, "mm", "µm")).toBe(0.7);
  });

  it("turns temperatures with their zeros and differences without", () => {
    expect(convert(20, "°C", "°F")).toBe(68);
    expect(convert(-40, "°F", "°C")).toBe(-40);
    expect(convert(0, "K", "°C")).toBe(-273.15);
    expect(convertDifference(10, "°C", "°F")).toBe(18);
  });

  it("turns degrees into radians to the nearest double", () => {
    expect(convert(180, "°", "rad")).toBe(Math.PI);
    expect(convert(Math.PI, "rad", "°")).toBe(180);
  });

  it("gives every decimal of up to 12 digits its exact product, whatever the sign and size", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e12, max: 1e12 }),
        fc.integer({ min: 0, max: 9 }),
        (digits, decimals) => {
          const text = decimal(BigInt(digits), decimals);
          const product = decimal(BigInt(digits) * 254n, decimals + 1);
          expect(convert(Number(text), "in", "mm")).toBe(Number(product) + 0);
        },
      ),
      { seed: 1959 },
    );
  });

  it("comes back from mm to in exactly for whatever was typed in inches with up to 12 digits", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e12, max: 1e12 }),
        fc.integer({ min: 0, max: 9 }),
        (digits, decimals) => {
          const inches = Number(decimal(BigInt(digits), decimals)) + 0;
          expect(convert(convert(inches, "in", "mm"), "mm", "in")).toBe(inches);
          expect(convert(convert(inches, "µin", "µm"), "µm", "µin")).toBe(inches);
        },
      ),
      { seed: 254 },
    );
  });

  it("comes back to within two units in the last place between any two units", () => {
    // Each way rounds once: half a unit of the result, which the way back can turn into almost two of the start.
    fc.assert(
      fc.property(fc.constantFrom(...linear), finite(1e-200, 1e200), ([from, to], value) => {
        const back = convertAny(convertAny(value, from, to), to, from);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(2 * Number.EPSILON * Math.abs(value));
      }),
      { seed: 8 },
    );
  });

  it("agrees with an exact product of fractions written out here, for computed doubles", () => {
    fc.assert(
      fc.property(finite(1e-290, 1e290), (value) => {
        fc.pre(value.toExponential().replace(/e.*/, "").replace(/\D/g, "").length > 15);
        const millimetres = convert(value, "in", "mm");
        // |millimetres − value·127/5| ≤ half the gap to either neighbour, in whole numbers scaled by 2^1100.
        const error = abs(5n * scaled(millimetres) - 127n * scaled(value));
        const gap = scaled(millimetres + gapAt(millimetres)) - scaled(millimetres);
        expect(2n * error <= 5n * abs(gap)).toBe(true);
      }),
      { seed: 754 },
    );
  });

  it("keeps subnormal numbers and refuses what is not finite", () => {
    expect(convert(1e-320, "mm", "µm")).toBe(1e-317);
    expect(convert(5e-324, "µm", "mm")).toBe(0);
    expect(() => convert(Number.NaN, "in", "mm")).toThrow(UnitError);
    expect(() => convert(Infinity, "in", "mm")).toThrow(
      "A quantity needs a finite number; got Infinity for a number of in.",
    );
  });

  it("refuses a result that no double can hold", () => {
    expect(() => convert(1e308, "m", "nm")).toThrow("1e+308 m is too large for a number of nm.");
  });

  it("refuses units of different dimensions in data", () => {
    expect(() => convertAny(1, "mm", "rev/min")).toThrow(
      "mm measures length and rev/min measures spindle speed: one can't be turned into the other. Give a unit of spindle speed.",
    );
  });

  it("relates all units of a dimension consistently: a to b to c is a to c", () => {
    for (const [from, to] of linear) {
      for (const via of unitNames.filter((unit) => dimensionOf(unit) === dimensionOf(from))) {
        const direct = convertAny(1, from, to);
        const detour = convertAny(convertAny(1, from, via), via, to);
        expect(Math.abs(detour / direct - 1)).toBeLessThanOrEqual(2 * Number.EPSILON);
      }
    }
  });
});

function decimal(digits: bigint, decimals: number): string {
  const sign = digits < 0n ? "-" : "";
  const text = abs(digits)
    .toString()
    .padStart(decimals + 1, "0");
  const point = text.length - decimals;
  return decimals === 0 ? sign + text : `${sign}${text.slice(0, point)}.${text.slice(point)}`;
}

function finite(min: number, max: number): fc.Arbitrary<number> {
  return fc
    .tuple(fc.double({ min: Math.log10(min), max: Math.log10(max), noNaN: true }), fc.constantFrom(-1, 1))
    .map(([power, sign]) => sign * 10 ** power);
}

function abs(value: bigint): bigint {
  return value < 0n ? -value : value;
}

/** A double times 2^1100, which is a whole number for every double. */
function scaled(value: number): bigint {
  let [size, power] = [value, 1100];
  while (!Number.isInteger(size)) [size, power] = [size * 2, power - 1];
  return BigInt(size) << BigInt(power);
}

/** The gap between a double and the next larger one in size. */
function gapAt(value: number): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, Math.abs(value));
  view.setBigUint64(0, view.getBigUint64(0) + 1n);
  return view.getFloat64(0) - Math.abs(value);
}
