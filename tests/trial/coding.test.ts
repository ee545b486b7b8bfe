import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { codedValue, naturalValue, type QuantityFactor } from "../../src/trial/index.ts";

const feed: QuantityFactor = {
  kind: "quantity",
  name: "feed",
  unit: "mm/rev",
  low: 0.1,
  high: 0.4,
  scale: "log",
  change: "easy",
};
const speed: QuantityFactor = { ...feed, name: "speed", unit: "m/min", low: 200, high: 300, scale: "linear" };

const factors = fc
  .record({
    low: fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
    ratio: fc.double({ min: 1.01, max: 100, noNaN: true }),
    scale: fc.constantFrom("linear" as const, "log" as const),
  })
  .map(({ low, ratio, scale }): QuantityFactor => ({ ...feed, low, high: low * ratio, scale }));

describe("codedValue and naturalValue", () => {
  it("put low at −1, high at +1 and the middle at 0", () => {
    expect([0.1, 0.2, 0.4].map((setting) => codedValue(feed, setting))).toEqual([-1, 0, 1]);
    expect([200, 250, 300].map((setting) => codedValue(speed, setting))).toEqual([-1, 0, 1]);
    expect(naturalValue(feed, 0)).toBeCloseTo(0.2, 15);
  });

  it("go beyond ±1 for axial settings", () => {
    expect(codedValue(speed, 350)).toBe(2);
    expect(codedValue(feed, 0.8)).toBeCloseTo(2, 14);
  });

  it("undo each other on both scales", () => {
    fc.assert(
      fc.property(factors, fc.double({ min: -2, max: 2, noNaN: true }), (factor, coded) => {
        const natural = naturalValue(factor, coded);
        fc.pre(factor.scale === "linear" || natural > 0);
        // The coded scale divides by the width: a rounding of the setting (relative 1.1e-16 of at most 3·high) grows by
        // high/(high − low), at most 101 here; a few such roundings.
        expect(Math.abs(codedValue(factor, natural) - coded)).toBeLessThan(4e-13);
      }),
      { seed: 20261125 },
    );
  });

  it("refuse what has no place on the scale", () => {
    expect(() => codedValue(feed, 0)).toThrow(
      "feed: got 0; expected a finite number of mm/rev above zero (its scale is log).",
    );
    expect(() => codedValue(speed, Number.NaN)).toThrow("speed: got NaN; expected a finite number.");
    expect(() => naturalValue(speed, Infinity)).toThrow("speed: got Infinity; expected a finite number.");
  });
});
