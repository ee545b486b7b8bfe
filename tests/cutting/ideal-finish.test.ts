import fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  CuttingError,
  feedOfLeastHeight,
  idealHeight,
  idealRa,
  idealRq,
  largestFeedOnNoseArc,
  sharpCornerHeight,
  smallestChipHeight,
  wiperNote,
} from "../../src/cutting/index.ts";

interface Case {
  readonly feedMm: number;
  readonly noseRadiusMm: number;
  readonly heightUm: number;
  readonly raUm: number;
  readonly rqUm: number;
}
const fixture = new URL("../fixtures/cutting/ideal-finish.json", import.meta.url);
const { cases } = JSON.parse(readFileSync(fixture, "utf8")) as { readonly cases: readonly Case[] };

/** Near f = 2r the rise of the arc sine magnifies the rounding of f/(2r); elsewhere a few roundings add up. */
function tolerance({ feedMm, noseRadiusMm }: Case): number {
  const share = feedMm / (2 * noseRadiusMm);
  return (32 * Number.EPSILON) / Math.sqrt(1 - share * share);
}

describe("ideal finish of a nose radius", () => {
  it.each(cases)("agrees with an integration to 60 digits at f $feedMm, r $noseRadiusMm mm", (given) => {
    const { feedMm, noseRadiusMm } = given;
    expect(Math.abs(idealHeight(feedMm, noseRadiusMm) / given.heightUm - 1)).toBeLessThan(tolerance(given));
    expect(Math.abs(idealRa(feedMm, noseRadiusMm) / given.raUm - 1)).toBeLessThan(tolerance(given));
    expect(Math.abs(idealRq(feedMm, noseRadiusMm) / given.rqUm - 1)).toBeLessThan(tolerance(given));
  });

  it("agrees with the mean of a sampled circle", () => {
    // The midpoint rule on 200,000 points: error near 1e-9 of the sum where the circle is not steep.
    const [feed, radius, samples] = [0.6, 0.8, 200_000];
    const heights = Array.from({ length: samples }, (_, index) => {
      const x = ((index + 0.5) / samples - 0.5) * feed;
      return radius - Math.sqrt(radius * radius - x * x);
    });
    const mean = heights.reduce((sum, height) => sum + height) / samples;
    const meanSize = heights.reduce((sum, height) => sum + Math.abs(height - mean), 0) / samples;
    expect(idealRa(feed, radius) / (1000 * meanSize)).toBeCloseTo(1, 8);
  });

  it("is the usual formula in the limit of a small feed, and above it at any feed", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (share, radius) => {
          const feed = 2 * radius * share;
          for (const finish of [idealHeight, idealRa, idealRq]) {
            const ratio = finish(feed, radius) / finish(feed, radius, { formula: "usual" });
            expect(ratio).toBeGreaterThan(1 - 1e-12);
            // Rt is at most twice its parabola; Ra and Rq grow with it.
            expect(ratio - 1).toBeLessThan(share * share * 1.01);
          }
        },
      ),
      { seed: 1802 },
    );
  });

  it("scales with the tool: twice feed and radius leave twice the finish", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1.5, noNaN: true }), (feed) => {
        expect(idealRa(2 * feed, 2) / idealRa(feed, 1)).toBeCloseTo(2, 12);
        expect(idealHeight(2 * feed, 2) / idealHeight(feed, 1)).toBeCloseTo(2, 12);
      }),
      { seed: 1803 },
    );
  });

  it("keeps Ra below Rq below half the height", () => {
    for (const { feedMm, noseRadiusMm } of cases) {
      expect(idealRa(feedMm, noseRadiusMm)).toBeLessThan(idealRq(feedMm, noseRadiusMm));
      expect(idealRq(feedMm, noseRadiusMm)).toBeLessThan(idealHeight(feedMm, noseRadiusMm) / 2);
    }
  });

  it("refuses a feed that passes the nose arc and says why", () => {
    expect(() => idealRa(1.7, 0.8)).toThrow(
      new CuttingError(
        "Feed 1.7 mm passes the nose arc: radius 0.8 mm (a half circle) leaves arcs up to 1.6 mm. " +
          "Past it the straight edges leave their marks: lower the feed, take a larger nose radius, or use the sharp-corner formula.",
      ),
    );
    // The arc meets a trailing edge at 5° after r·sin 5° on either side.
    expect(largestFeedOnNoseArc(0.8, 5)).toBeCloseTo(1.6 * Math.sin(Math.PI / 36), 15);
    expect(() => idealHeight(0.2, 0.8, { minorEdgeAngleDegrees: 5 })).toThrow(
      "(trailing edge at 5°) leaves arcs up to 0.1394 mm",
    );
    expect(idealHeight(0.13, 0.8, { minorEdgeAngleDegrees: 5 })).toBe(idealHeight(0.13, 0.8));
  });

  it("holds up to the very end of the arc, where the height is the radius", () => {
    expect(idealHeight(1.6, 0.8)).toBeCloseTo(800, 10);
    expect(idealRa(1.6, 0.8)).toBeGreaterThan(0);
  });

  it.each([Number.NaN, Infinity, 0, -0.1])("refuses a feed of %f", (feed) => {
    expect(() => idealRa(feed, 0.8)).toThrow(`feedMm is ${feed}; expected a finite number above zero.`);
    expect(() => idealRa(0.1, feed)).toThrow(`noseRadiusMm is ${feed}; expected a finite number above zero.`);
  });
});

describe("other shapes of edge", () => {
  it("leaves a triangle under the sharp corner, a right-angled one at κ 90°", () => {
    // With an upright leading edge the height is f·tan κ′.
    const height = sharpCornerHeight({ feedMm: 0.2, majorEdgeAngleDegrees: 90, minorEdgeAngleDegrees: 30 });
    expect(height).toBeCloseTo(200 * Math.tan(Math.PI / 6), 10);
    expect(() =>
      sharpCornerHeight({ feedMm: 0.2, majorEdgeAngleDegrees: 0, minorEdgeAngleDegrees: 30 }),
    ).toThrow("majorEdgeAngleDegrees is 0; expected an angle above 0° and at most 90°.");
  });

  it("has its least height, the smallest chip itself, at √(2·r·h) (from Brammertz's formula)", () => {
    const chip = { noseRadiusMm: 0.8, smallestChipMm: 0.002 };
    const best = feedOfLeastHeight(chip);
    expect(smallestChipHeight(best, chip)).toBeCloseTo(2, 12);
    expect(smallestChipHeight(best * 1.05, chip)).toBeGreaterThan(2);
    expect(smallestChipHeight(best * 0.95, chip)).toBeGreaterThan(2);
  });

  it("says that a wiper longer than the feed wipes the cusp away", () => {
    expect(wiperNote(0.4, 1.2)).toEqual({
      wipesCusp: true,
      text: "The wiper flat of 1.2 mm is longer than the feed of 0.4 mm: the cusp of the nose radius vanishes, and edge, run-out and chatter rule the finish.",
    });
    expect(wiperNote(1.2, 1.2).wipesCusp).toBe(false);
  });
});
