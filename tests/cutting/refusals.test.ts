import { describe, expect, it } from "vitest";
import {
  cutoffForRa,
  cutoffForSpacing,
  cutoffRemark,
  dishFromTilt,
  faceMillApproach,
  feedSpeed,
  gradeFor,
  millingRemovalRate,
  passTime,
  spindleSpeed,
  surfaceSpeed,
  taylorLife,
  taylorLine,
  turningRemovalRate,
} from "../../src/cutting/index.ts";

describe("sizes that are none", () => {
  const bad = [Number.NaN, Infinity, -Infinity, 0, -1];

  it.each(bad)("refuses %f wherever a size above zero is expected, naming it", (value) => {
    const refused: readonly (readonly [string, () => unknown])[] = [
      ["diameterMm", () => surfaceSpeed({ diameterMm: value, spindleSpeedRevPerMin: 1000 })],
      ["surfaceSpeedMPerMin", () => spindleSpeed({ diameterMm: 80, surfaceSpeedMPerMin: value })],
      ["feedMmPerRev", () => feedSpeed({ feedMmPerRev: value, spindleSpeedRevPerMin: 1000 })],
      ["teeth", () => feedSpeed({ feedMmPerTooth: 0.1, teeth: value, spindleSpeedRevPerMin: 1000 })],
      ["widthMm", () => millingRemovalRate({ depthMm: 1, widthMm: value, feedSpeedMmPerMin: 100 })],
      ["depthMm", () => turningRemovalRate({ depthMm: value, feedMmPerRev: 0.1, surfaceSpeedMPerMin: 100 })],
      ["feedSpeedMmPerMin", () => passTime({ lengthMm: 100, feedSpeedMmPerMin: value })],
      ["diameterMm", () => faceMillApproach(value)],
      ["exponent", () => taylorLife(100, { exponent: value, speedForOneMinuteMPerMin: 400 })],
      ["spacingMm", () => cutoffForSpacing(value)],
    ];
    for (const [name, compute] of refused) {
      expect(compute).toThrow(
        `${name} is ${value}; expected a finite number above zero. Give the size in the unit of the name.`,
      );
    }
  });

  it("takes no approach, no overtravel and no tilt, but no negative ones", () => {
    expect(passTime({ lengthMm: 100, feedSpeedMmPerMin: 100, approachMm: 0, overtravelMm: 0 })).toBe(1);
    expect(() => passTime({ lengthMm: 100, feedSpeedMmPerMin: 100, approachMm: -1 })).toThrow(
      "approachMm is -1; expected a finite number, zero or more.",
    );
    expect(dishFromTilt({ tiltSlope: 0, diameterMm: 200, widthMm: 150 })).toBe(0);
    expect(() => gradeFor(Number.NaN)).toThrow("raUm is NaN; expected a finite number, zero or more.");
  });

  it("refuses a face wider than the cutter", () => {
    expect(() => dishFromTilt({ tiltSlope: 1e-4, diameterMm: 80, widthMm: 81 })).toThrow(
      "A width of 81 mm is more than the cutter's 80 mm. Give the width that one path cuts, or the larger cutter.",
    );
    // The full width leaves the whole of θ·D/2.
    expect(dishFromTilt({ tiltSlope: 1e-4, diameterMm: 80, widthMm: 80 })).toBeCloseTo(4, 12);
  });

  it("refuses lives that do not fall with speed", () => {
    const life = (surfaceSpeedMPerMin: number, lifeMinutes: number) => ({ surfaceSpeedMPerMin, lifeMinutes });
    expect(() => taylorLine(life(200, 10), life(400, 20))).toThrow(
      "expected a shorter life at the higher speed",
    );
    expect(() => taylorLine(life(200, 10), life(200, 5))).toThrow(
      "expected a shorter life at the higher speed",
    );
    expect(() => taylorLine(life(200, 10), life(400, 10))).toThrow(
      "expected a shorter life at the higher speed",
    );
  });
});

describe("cut-offs outside the tables", () => {
  it("gives a reason and no number", () => {
    expect(cutoffForSpacing(0.013)).toEqual({
      advice: null,
      reason:
        "Marks 0.013 mm apart are outside the table (above 0.013 mm, up to 4 mm): choose a cut-off of at least five spacings.",
    });
    expect(cutoffForSpacing(4.1).advice).toBeNull();
    expect(cutoffForRa(0).advice).toBeNull();
    expect(cutoffForRa(81).advice).toBeNull();
  });

  it("says what a wrong cut-off does to the feed mark", () => {
    expect(cutoffRemark(0.8, 0.3)).toBeNull();
    expect(cutoffRemark(0.8, 0.5)).toBe(
      "A cut-off of 0.8 mm is too short for marks 0.5 mm apart: part of the mark is filtered away and the surface reads too smooth. " +
        "Use 2.5 mm over 12.5 mm (ISO 4288).",
    );
    expect(cutoffRemark(2.5, 0.1)).toBe(
      "A cut-off of 2.5 mm is longer than marks 0.1 mm apart need: waviness is read as roughness. Use 0.25 mm over 1.25 mm (ISO 4288).",
    );
  });
});
