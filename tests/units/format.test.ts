import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dimensionOf,
  formatNumber,
  formatQuantity,
  quantity,
  unitIn,
  unitNames,
} from "../../src/units/index.ts";

describe("formatNumber", () => {
  it.each([
    [0.81234, 0.0237, "0.812"],
    [0.8, 0.012, "0.800"],
    [0.8, 0.0996, "0.80"], // 0.0996 is 0.10 to two digits
    [0.8, 0.0994, "0.800"], // and 0.0994 is 0.099
    [8123.4, 237, "8120"],
    [8123.4, 23.7, "8123"],
    [8123.4, 2.37, "8123.4"],
    [-0.0004, 0.023, "0.000"], // no minus before a zero
    [-0.81234, 0.0237, "−0.812"],
    [12345.678, 0.5, "12\u202f345.68"],
    [2.5e-7, 1.2e-9, "2.500×10⁻⁷"],
    [2.5e-7, 1.2e-8, "2.50×10⁻⁷"],
    [3.1e12, 2.2e9, "3.1000×10¹²"],
    [1, 1e-30, "1.00000000000000"], // no more digits than a double has
    [0, 0.02, "0.000"],
  ])("rounds %f to the second digit of its uncertainty %f: %s", (value, uncertainty, shown) => {
    expect(formatNumber(value, { uncertainty })).toBe(shown);
  });

  it.each([
    [0.8, "0.8"],
    [1.2345, "1.2345"], // as somebody set it
    [0.1 + 0.2, "0.3"],
    [31.496062992, "31.5"],
    [251.32741228, "251.3"],
    [12345.678, "12\u202f346"],
    [1000, "1000"],
    [123456789, "123\u202f456\u202f789"],
    [0.00001234567, "0.00001235"],
    [0.0000012, "1.2×10⁻⁶"],
    [-5e20, "−5×10²⁰"],
    [0, "0"],
    [-0, "0"],
  ])("shows %f as %s where nothing is said of digits", (value, shown) => {
    expect(formatNumber(value)).toBe(shown);
  });

  it.each([
    [31.496, 3, "31.5"],
    [9.996, 3, "10.0"],
    [0.8, 3, "0.800"],
    [123456, 3, "123\u202f000"],
    [0.00012, 1, "0.0001"],
    [0, 3, "0.00"],
  ])("shows %f to %i digits as %s", (value, digits, shown) => {
    expect(formatNumber(value, { digits })).toBe(shown);
  });

  it("shows a dash for what is not a number and ∞ for infinity, whatever is asked", () => {
    for (const options of [{}, { digits: 3 }, { uncertainty: 0.1 }, { uncertainty: Number.NaN }]) {
      expect(formatNumber(Number.NaN, options)).toBe("—");
      expect(formatNumber(Infinity, options)).toBe("∞");
      expect(formatNumber(-Infinity, options)).toBe("−∞");
    }
  });

  it("falls back to sensible digits where the uncertainty is none", () => {
    for (const uncertainty of [0, -1, Number.NaN, Infinity])
      expect(formatNumber(31.496062992, { uncertainty })).toBe("31.5");
  });

  it("never prints NaN or undefined and never strays further than it rounds", () => {
    const any = fc.double({ min: -1e300, max: 1e300, noNaN: true });
    fc.assert(
      fc.property(any, fc.double({ min: 1e-300, max: 1e300, noNaN: true }), (value, uncertainty) => {
        const shown = formatNumber(value, { uncertainty });
        expect(shown).toMatch(/^−?[\d\u202f.]+(×10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?$/);
        // Half a step of the uncertainty's second digit is at most 5 % of it; the rest is the limit of 15 digits.
        const back = Number(plain(shown));
        expect(Math.abs(back - value)).toBeLessThanOrEqual(0.0501 * uncertainty + 1e-14 * Math.abs(value));
      }),
      { seed: 37, numRuns: 2000 },
    );
  });
});

describe("formatQuantity", () => {
  it("shows the other system in brackets, the given one first", () => {
    expect(formatQuantity(quantity(0.8, "µm"), { system: "both" })).toBe("0.8 µm (31.5 µin)");
    expect(formatQuantity(quantity(31, "µin"), { system: "both" })).toBe("31 µin (0.7874 µm)");
    expect(formatQuantity(quantity(0.25, "mm/rev"), { system: "both" })).toBe(
      "0.25 mm/rev (0.009843 in/rev)",
    );
    expect(formatQuantity(quantity(10, "thou"), { system: "both" })).toBe("10 thou (0.254 mm)");
    expect(formatQuantity(quantity(20, "°C"), { system: "both" })).toBe("20 °C (68 °F)");
  });

  it("shows once what both systems share", () => {
    expect(formatQuantity(quantity(1000, "rev/min"), { system: "both" })).toBe("1000 rev/min");
    expect(formatQuantity(quantity(45, "°"), { system: "both" })).toBe("45°");
    expect(formatQuantity(quantity(3, "1"))).toBe("3");
  });

  it("shows one system, or the unit as given", () => {
    expect(formatQuantity(quantity(0.8, "µm"), { system: "inch" })).toBe("31.5 µin");
    expect(formatQuantity(quantity(1, "in"), { system: "metric" })).toBe("25.4 mm");
    expect(formatQuantity(quantity(1, "in"), { system: "inch" })).toBe("1 in");
    expect(formatQuantity(quantity(1, "in"))).toBe("1 in");
  });

  it("takes the uncertainty along into the other system", () => {
    expect(formatQuantity(quantity(0.8123, "µm"), { system: "both", uncertainty: 0.0237 })).toBe(
      "0.812 µm (31.98 µin)", // 0.0237 µm is 0.93 µin
    );
    expect(formatQuantity(quantity(20.123, "°C"), { system: "inch", uncertainty: 0.5 })).toBe("68.22 °F");
  });

  it("shows a dash where a value could not be computed", () => {
    const unknown = { ...quantity(1, "µm"), value: Number.NaN };
    expect(formatQuantity(unknown, { system: "both" })).toBe("— µm (— µin)");
  });
});

describe("unitIn", () => {
  it("stays in the dimension and in the system for every unit", () => {
    for (const unit of unitNames) {
      for (const system of ["metric", "inch"] as const) {
        const shown = unitIn(unit, system);
        expect(dimensionOf(shown)).toBe(dimensionOf(unit));
        expect(unitIn(shown, system)).toBe(shown);
      }
    }
  });

  it("pairs the units that shops pair", () => {
    const pairs = [
      ["µm", "µin"],
      ["mm", "in"],
      ["mm/rev", "in/rev"],
      ["mm/tooth", "in/tooth"],
      ["m/min", "ft/min"],
      ["mm/min", "in/min"],
      ["cm³/min", "in³/min"],
      ["°C", "°F"],
    ] as const;
    for (const [metric, inch] of pairs) {
      expect(unitIn(metric, "inch")).toBe(inch);
      expect(unitIn(inch, "metric")).toBe(metric);
    }
  });
});

function plain(shown: string): string {
  const digits = "⁰¹²³⁴⁵⁶⁷⁸⁹";
  return shown
    .replace(/\u202f/g, "")
    .replace(
      /×10(.+)$/,
      (_, raised: string) =>
        `e${[...raised].map((sign) => (sign === "⁻" ? "-" : digits.indexOf(sign))).join("")}`,
    )
    .replace(/−/g, "-");
}
