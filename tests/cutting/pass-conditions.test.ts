import { describe, expect, it } from "vitest";
import { idealRa, passConditions, passConditionsOf } from "../../src/cutting/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import type { Settings, TrialSpec } from "../../src/trial/index.ts";

const feed = { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 };
const faceMilling = {
  format: "trycut-trial/1",
  title: "Seal face",
  question: "Which feed keeps the limit?",
  dataKind: "invented",
  factors: [feed],
  responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
  layout: { kind: "sweep" },
  held: { depth: "0.1 mm", speed: "1000 rev/min" },
  cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 1 },
  pass: { length: "180 mm", width: "60 mm", overtravel: "20 mm" },
};

function spec(changes: Readonly<Record<string, unknown>> = {}): TrialSpec {
  return parseTrialSpec({ ...faceMilling, ...changes }, "trial.json");
}

const whyOf = (result: ReturnType<typeof passConditions>, what: string): string | undefined =>
  result.missing.find((each) => each.what === what)?.why;

describe("passConditions", () => {
  it("works out a face-milling pass from a feed factor and a held speed", () => {
    const found = passConditions(spec(), { feed: 0.16 });
    expect(found).toMatchObject({
      kind: "milling",
      spindleSpeedRevPerMin: 1000,
      feedMmPerRev: 0.16,
      feedMmPerTooth: 0.16,
      feedSpeedMmPerMin: 160,
      depthMm: 0.1,
      widthMm: 60,
      diameterMm: 80,
      minutes: 1.5, // (180 + 40 + 20) mm at 160 mm/min
      missing: [],
      conflicts: [],
      assumptions: [
        "No approach is stated in pass.approach: half the cutter's diameter, 40 mm, is taken (common practice).",
      ],
    });
    expect(found.surfaceSpeedMPerMin).toBeCloseTo(251.327, 3);
    expect(found.removalRateCm3PerMin).toBeCloseTo(0.96, 12); // 0.1 × 60 × 160 / 1000
    expect(found.idealRaUm).toBe(idealRa(0.16, 0.8));
  });

  it("gives the same pass whatever units the trial is written in", () => {
    const inches = spec({
      factors: [{ ...feed, unit: "in/rev", low: 0.002, high: 0.01 }],
      held: { depth: "0.0039370078740157 in", speed: "824.565 sfm" },
      cutter: { diameter: "3.14960629921260 in", noseRadius: "0.8 mm", teeth: 1 },
      pass: { length: '7.08661417322835"', width: "2.36220472440945 in", overtravel: "20 mm" },
    });
    const [metric, inch] = [passConditions(spec(), { feed: 0.254 }), passConditions(inches, { feed: 0.01 })];
    // The surface speed is stated to six digits.
    for (const what of [
      "spindleSpeedRevPerMin",
      "feedSpeedMmPerMin",
      "minutes",
      "removalRateCm3PerMin",
    ] as const) {
      expect((inch[what] ?? 0) / (metric[what] ?? 1)).toBeCloseTo(1, 6);
    }
  });

  it("takes a surface speed, a feed per tooth and a depth as factors", () => {
    const trial = spec({
      factors: [
        { name: "cutting speed", kind: "quantity", unit: "m/min", low: 150, high: 300 },
        { name: "feed", kind: "quantity", unit: "mm/tooth", low: 0.05, high: 0.2 },
        { name: "depth", kind: "quantity", unit: "mm", low: 0.1, high: 0.5 },
      ],
      held: {},
      cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 4 },
    });
    const found = passConditions(trial, { "cutting speed": 251.32741228718345, feed: 0.1, depth: 0.5 });
    expect(found.spindleSpeedRevPerMin).toBeCloseTo(1000, 9);
    expect(found.feedMmPerRev).toBe(0.4);
    expect(found.feedSpeedMmPerMin).toBeCloseTo(400, 9);
    expect(found.removalRateCm3PerMin).toBeCloseTo(12, 9);
    expect(whyOf(found, "idealRaUm")).toBe(
      "With 4 teeth the marks lie between the feed per tooth (all teeth level) and per revolution (one stands out).",
    );
  });

  it("takes a feed speed by its unit: mm/min and in/min are feeds, m/min and ft/min surface speeds", () => {
    const trial = spec({
      factors: [{ name: "table", kind: "quantity", unit: "mm/min", low: 100, high: 400 }],
    });
    expect(passConditions(trial, { table: 200 })).toMatchObject({
      feedSpeedMmPerMin: 200,
      feedMmPerRev: 0.2,
    });
    const named = spec({ factors: [{ name: "feed", kind: "quantity", unit: "m/min", low: 0.1, high: 0.4 }] });
    expect(passConditions(named, { feed: 0.2 }).feedSpeedMmPerMin).toBe(200);
  });

  it("turns where the kind says so, with the workpiece's diameter", () => {
    const turning = spec({
      factors: [
        feed,
        { name: "speed", kind: "quantity", unit: "m/min", low: 100, high: 400 },
        { name: "diameter", kind: "quantity", unit: "mm", low: 30, high: 50 },
      ],
      held: { depth: "0.7 mm" },
      cutter: { noseRadius: "0.8 mm" },
      pass: { length: "100 mm", kind: "turning" },
    });
    const found = passConditions(turning, { feed: 0.1, speed: 220, diameter: 50 });
    expect(found.kind).toBe("turning");
    expect(found.spindleSpeedRevPerMin).toBeCloseTo(220_000 / (Math.PI * 50), 9);
    expect(found.removalRateCm3PerMin).toBeCloseTo(0.7 * 0.1 * 220, 12);
    expect(found.minutes).toBeCloseTo(100 / (0.1 * (220_000 / (Math.PI * 50))), 12);
    expect(found.idealRaUm).toBe(idealRa(0.1, 0.8));
    expect(found.assumptions).toEqual([
      "No approach is stated in pass.approach: 0 mm is taken.",
      "No overtravel is stated in pass.overtravel: 0 mm is taken.",
    ]);
  });

  it("gives the removal rate of turning without a diameter, and says what the spindle speed wants", () => {
    const turning = spec({
      held: { speed: "220 m/min", depth: "0.7 mm" },
      cutter: { noseRadius: "0.8 mm", diameter: "20 mm" }, // the bar's, not the workpiece's
      pass: { kind: "turning", length: "100 mm" },
    });
    const found = passConditions(turning, { feed: 0.1 });
    expect(found.removalRateCm3PerMin).toBeCloseTo(15.4, 12);
    expect(found.spindleSpeedRevPerMin).toBeNull();
    const diameter =
      'Wants the workpiece\'s diameter: a factor named diameter, or held, such as "diameter": "50 mm".';
    expect(whyOf(found, "spindleSpeedRevPerMin")).toBe(diameter);
    expect(whyOf(found, "minutes")).toBe(diameter);
  });

  it("names everything that a bare trial lacks, and where to state it", () => {
    const bare = spec({
      factors: [{ name: "edge", kind: "category", levels: ["fresh", "used"] }],
      held: {},
      cutter: undefined,
      pass: undefined,
    });
    const found = passConditions(bare, { edge: "fresh" });
    const speed = 'Wants a speed: a factor in rev/min or m/min, or held, such as "speed": "1000 rev/min".';
    const feedWanted = 'Wants a feed: a factor in mm/rev or mm/tooth, or held, such as "feed": "0.1 mm/rev".';
    expect(Object.fromEntries(found.missing.map(({ what, why }) => [what, why]))).toEqual({
      spindleSpeedRevPerMin: speed,
      surfaceSpeedMPerMin: speed,
      feedSpeedMmPerMin: `${feedWanted} ${speed}`,
      minutes: `Wants the length of the pass: pass.length. ${feedWanted} ${speed} Wants the cutter's diameter: cutter.diameter.`,
      removalRateCm3PerMin:
        `Wants the depth of cut: a factor named depth, or held, such as "depth": "0.1 mm". ` +
        `Wants the width of cut: pass.width, or a factor named width. ${feedWanted} ${speed}`,
      idealRaUm: "Wants the nose radius: cutter.noseRadius.",
      idealHeightUm: "Wants the nose radius: cutter.noseRadius.",
    });
  });

  it("tells of statements that contradict each other and follows the factor", () => {
    const trial = spec({ held: { speed: "1000 rev/min", "feed speed": "300 mm/min" } });
    const found = passConditions(trial, { feed: 0.16 });
    expect(found.feedSpeedMmPerMin).toBe(160);
    expect(found.conflicts).toEqual([
      "factor feed gives a feed speed of 160 mm/min and held feed speed one of 300 mm/min; factor feed is followed. Correct or leave out one of them.",
    ]);
    const speeds = spec({ held: { speed: "1000 rev/min", "surface speed": "251 m/min" } });
    expect(passConditions(speeds, { feed: 0.16 }).conflicts).toEqual([]); // 251.3, rounded as handbooks do
  });

  it("finds the spindle speed from feed and feed speed where nothing else gives it", () => {
    const trial = spec({ held: { "feed speed": "160 mm/min" } });
    expect(passConditions(trial, { feed: 0.16 }).spindleSpeedRevPerMin).toBe(1000);
  });

  it("reads today's setting, whose values may be typed with units or stand for what is held", () => {
    const found = passConditions(spec(), { feed: "0.004 ipr", speed: "1200 rev/min" });
    expect(found.feedMmPerRev).toBeCloseTo(0.1016, 15);
    expect(found.spindleSpeedRevPerMin).toBe(1200);
  });

  it("leaves limits alone: a largest speed is not what is cut with", () => {
    const trial = spec({ held: { depth: "0.1 mm", maxSpeed: "6000 rev/min" } });
    expect(passConditions(trial, { feed: 0.16 }).spindleSpeedRevPerMin).toBeNull();
  });

  it("does not guess between two feeds, nor take words for a depth", () => {
    const two = spec({
      factors: [
        { ...feed, name: "first feed" },
        { ...feed, name: "second feed" },
      ],
    });
    expect(whyOf(passConditions(two, { "first feed": 0.1, "second feed": 0.2 }), "feedSpeedMmPerMin")).toBe(
      "Wants a statement that can be used: factor first feed and factor second feed state it both.",
    );
    const words = spec({ held: { depth: "a hair", speed: "1000 rev/min" } });
    expect(whyOf(passConditions(words, { feed: 0.1 }), "removalRateCm3PerMin")).toBe(
      'Wants a statement that can be used: held depth: "a hair" is not a quantity: expected a number and a unit, such as "0.8 µm".',
    );
  });

  it("has a reason and no number where a setting is zero, missing or not finite", () => {
    expect(whyOf(passConditions(spec(), { feed: 0 }), "feedSpeedMmPerMin")).toBe(
      "Wants a statement that can be used: factor feed is 0 mm/rev; expected a size above zero.",
    );
    expect(passConditions(spec(), { feed: Number.NaN }).minutes).toBeNull();
    expect(whyOf(passConditions(spec(), {}), "minutes")).toBe(
      "Wants a statement that can be used: factor feed has no setting in this run.",
    );
  });

  it("has no ideal finish past the nose arc or under a wiper, and says why", () => {
    const wide = spec({ factors: [{ ...feed, high: 2 }] });
    expect(whyOf(passConditions(wide, { feed: 1.8 }), "idealRaUm")).toMatch(
      /^Feed 1\.8 mm passes the nose arc/,
    );
    const wiper = spec({ cutter: { ...faceMilling.cutter, wiper: "1.2 mm" } });
    expect(whyOf(passConditions(wiper, { feed: 0.2 }), "idealRaUm")).toMatch(
      /^The wiper flat of 1\.2 mm is longer/,
    );
  });

  it("gives every run its own pass when what the trial holds is read once", () => {
    const conditionsOf = passConditionsOf(spec());
    const settingsOfRuns: readonly Settings[] = [
      { feed: 0.1 },
      {},
      { feed: 0.2, speed: "1200 rev/min" },
      { feed: 0.1 },
    ];
    for (const settings of settingsOfRuns) {
      expect(conditionsOf(settings)).toEqual(passConditions(spec(), settings));
    }
  });

  it("changes nothing that it is given", () => {
    const frozen = deepFreeze(spec());
    expect(() => passConditions(frozen, Object.freeze({ feed: 0.16 }))).not.toThrow();
  });
});

function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null) Object.values(value).forEach(deepFreeze);
  return Object.freeze(value);
}
