import { describe, expect, it } from "vitest";
import {
  cutoffForRa,
  cutoffForSpacing,
  dishFromTilt,
  endOfEdgeLife,
  faceMillApproach,
  feedSpeed,
  finishGrades,
  gradeFor,
  idealHeight,
  idealRa,
  idealRq,
  millingRemovalRate,
  passTime,
  sharpCornerHeight,
  sharpCornerRa,
  spindleSpeed,
  surfaceSpeed,
  taylorExponents,
  taylorLife,
  taylorLine,
  taylorSpeed,
  turningRemovalRate,
} from "../../src/cutting/index.ts";
import { convert } from "../../src/units/index.ts";

// Marks: [c] recomputed independently of this code; (m) from memory of the source named; (cp) common practice.
// Tolerances are half a unit of the last digit that the check value has.

describe("speeds and feeds", () => {
  it("gives 251.327 m/min, 824.565 ft/min, for 80 mm at 1000 rev/min (ISO 3002-1 (m), [c])", () => {
    const speed = surfaceSpeed({ diameterMm: 80, spindleSpeedRevPerMin: 1000 });
    expect(speed).toBeCloseTo(251.327, 3);
    expect(convert(speed, "m/min", "ft/min")).toBeCloseTo(824.565, 3);
  });

  it("agrees with v = π·D·n/12 in inches and feet (ISO 3002-1 (m))", () => {
    const metric = surfaceSpeed({ diameterMm: convert(3, "in", "mm"), spindleSpeedRevPerMin: 1200 });
    // Two roundings on each road, hence a few units in the last place.
    expect(convert(metric, "m/min", "ft/min") / ((Math.PI * 3 * 1200) / 12)).toBeCloseTo(1, 14);
  });

  it("comes back to the spindle speed from the surface speed", () => {
    const surfaceSpeedMPerMin = surfaceSpeed({ diameterMm: 80, spindleSpeedRevPerMin: 1000 });
    expect(spindleSpeed({ diameterMm: 80, surfaceSpeedMPerMin })).toBeCloseTo(1000, 10);
  });

  it("gives the same feed speed by tooth and by revolution: v_f = f·n = f_z·z·n (ISO 3002-1 (m))", () => {
    expect(feedSpeed({ feedMmPerRev: 0.4, spindleSpeedRevPerMin: 1000 })).toBe(400);
    expect(feedSpeed({ feedMmPerTooth: 0.1, teeth: 4, spindleSpeedRevPerMin: 1000 })).toBe(400);
  });

  it("gives removal rates by Q = a_p·a_e·v_f and Q = a_p·f·v (ISO 3002-4 (m))", () => {
    expect(millingRemovalRate({ depthMm: 0.5, widthMm: 60, feedSpeedMmPerMin: 400 })).toBe(12);
    expect(turningRemovalRate({ depthMm: 0.5, feedMmPerRev: 0.2, surfaceSpeedMPerMin: 200 })).toBe(20);
  });

  it("counts approach and overtravel into the pass, a centred face mill's approach being D/2 (cp)", () => {
    expect(faceMillApproach(80)).toBe(40);
    expect(passTime({ lengthMm: 180, approachMm: 40, overtravelMm: 5, feedSpeedMmPerMin: 450 })).toBe(0.5);
    expect(passTime({ lengthMm: 180, feedSpeedMmPerMin: 450 })).toBe(0.4);
  });
});

describe("ideal finish", () => {
  it("gives Rt 6.275 µm exact and 6.250 µm usual for f 0.2, r 0.8 mm (Shaw (m), [c])", () => {
    expect(idealHeight(0.2, 0.8)).toBeCloseTo(6.275, 3);
    expect(idealHeight(0.2, 0.8, { formula: "usual" })).toBeCloseTo(6.25, 12);
  });

  it.each([
    [0.2, 0.8, 1.6088, 1.6038, 4],
    [0.1, 0.4, 0.8044, 0.8019, 4],
    [0.5, 0.8, 10.227, 10.023, 3],
  ])("gives Ra for f %f, r %f mm: %f µm exact, %f µm usual ([c])", (feed, radius, exact, usual, digits) => {
    expect(idealRa(feed, radius)).toBeCloseTo(exact, digits);
    expect(idealRa(feed, radius, { formula: "usual" })).toBeCloseTo(usual, digits);
  });

  it("has the usual constants 0.03208 for Ra and 1/(12√5) for Rq ([c])", () => {
    expect((idealRa(0.2, 0.8, { formula: "usual" }) * 0.8) / 0.04 / 1000).toBeCloseTo(0.03208, 5);
    expect((idealRq(0.2, 0.8, { formula: "usual" }) * 0.8) / 0.04 / 1000).toBeCloseTo(
      1 / (12 * Math.sqrt(5)),
      12,
    );
  });

  it("gives Ra 10.566 µm for a sharp corner of κ 45°, κ′ 15° at f 0.2 mm ([c])", () => {
    const corner = { feedMm: 0.2, majorEdgeAngleDegrees: 45, minorEdgeAngleDegrees: 15 };
    expect(sharpCornerRa(corner)).toBeCloseTo(10.566, 3);
    expect(sharpCornerHeight(corner)).toBeCloseTo(4 * 10.566, 2);
  });

  it("gives a dish of 2.26 µm for D 200, w 150 mm at 0.02 mm in 300 mm (geometry, [c])", () => {
    expect(dishFromTilt({ tiltSlope: 0.02 / 300, diameterMm: 200, widthMm: 150 })).toBeCloseTo(2.26, 2);
  });
});

describe("grades and cut-offs", () => {
  it("lists N1 to N12 with nominal microinches (ISO 1302 (m))", () => {
    expect(
      finishGrades.map(({ grade, raUm, nominalRaMicroinch }) => `${grade} ${raUm} ${nominalRaMicroinch}`),
    ).toEqual([
      "N1 0.025 1",
      "N2 0.05 2",
      "N3 0.1 4",
      "N4 0.2 8",
      "N5 0.4 16",
      "N6 0.8 32",
      "N7 1.6 63",
      "N8 3.2 125",
      "N9 6.3 250",
      "N10 12.5 500",
      "N11 25 1000",
      "N12 50 2000",
    ]);
  });

  it("has nominal microinches within 2 % of the exact ones", () => {
    for (const { raUm, nominalRaMicroinch } of finishGrades) {
      expect(Math.abs(convert(raUm, "µm", "µin") / nominalRaMicroinch - 1)).toBeLessThan(0.02);
    }
    expect(convert(0.8, "µm", "µin")).toBeCloseTo(31.496, 3); // and not 32: the nominal figure is rounded
  });

  it("finds the finest grade that an Ra keeps", () => {
    expect(gradeFor(0.75)?.grade).toBe("N6");
    expect(gradeFor(0.8)?.grade).toBe("N6");
    expect(gradeFor(0.8000001)?.grade).toBe("N7");
    expect(gradeFor(0)?.grade).toBe("N1");
    expect(gradeFor(50.1)).toBeNull();
  });

  it.each([
    [0.02, 0.08],
    [0.1, 0.25],
    [0.2, 0.8],
    [0.4, 0.8],
    [0.41, 2.5],
    [2, 8],
  ])("wants for marks %f mm apart a cut-off of %f mm (ISO 4288:1996 table 3 (m))", (spacing, cutoffMm) => {
    expect(cutoffForSpacing(spacing).advice).toMatchObject({ cutoffMm, evaluationMm: 5 * cutoffMm });
  });

  it.each([
    [0.01, 0.08],
    [0.05, 0.25],
    [0.8, 0.8],
    [2, 0.8],
    [3.2, 2.5],
    [50, 8],
  ])(
    "wants for Ra %f µm without repeating marks a cut-off of %f mm (ISO 4288:1996 table 1 (m))",
    (ra, cutoffMm) => {
      expect(cutoffForRa(ra).advice?.cutoffMm).toBe(cutoffMm);
    },
  );

  it("pairs cut-off, λs and tip as ISO 3274 does (m)", () => {
    const settings = [0.03, 0.1, 0.3, 1, 3].map((spacing) => {
      const { advice } = cutoffForSpacing(spacing);
      return [advice?.cutoffMm, advice?.shortCutoffUm, advice?.tipRadiusUm];
    });
    expect(settings).toEqual([
      [0.08, 2.5, 2],
      [0.25, 2.5, 2],
      [0.8, 2.5, 2],
      [2.5, 8, 5],
      [8, 25, 10],
    ]);
  });
});

describe("tool life", () => {
  const line = { exponent: 0.25, speedForOneMinuteMPerMin: 400 };

  it("follows V·Tⁿ = C (Taylor 1907): half the speed at n = 0.25 gives 16 times the life", () => {
    expect(taylorLife(400, line)).toBe(1);
    expect(taylorLife(200, line)).toBe(16);
    expect(taylorSpeed(16, line)).toBe(200);
  });

  it("finds n and C from two lives", () => {
    const found = taylorLine(
      { surfaceSpeedMPerMin: 200, lifeMinutes: 16 },
      { surfaceSpeedMPerMin: 400, lifeMinutes: 1 },
    );
    expect(found.exponent).toBeCloseTo(0.25, 14);
    expect(found.speedForOneMinuteMPerMin).toBeCloseTo(400, 11);
  });

  it("names the usual exponents and the end of life (m)", () => {
    expect(taylorExponents.map(({ low, high }) => [low, high])).toEqual([
      [0.1, 0.15],
      [0.2, 0.3],
      [0.4, 0.6],
    ]);
    expect(endOfEdgeLife).toEqual({ averageFlankWearMm: 0.3, largestFlankWearMm: 0.6 }); // ISO 3685, ISO 8688-1 (m)
  });
});
