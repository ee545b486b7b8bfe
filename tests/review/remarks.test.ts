import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { fitRemarks, intervalInflation, remarks, separatingRuns } from "../../src/review/index.ts";
import { cusp, madeTrial } from "./made-trial.ts";

const kinds = (found: ReturnType<typeof remarks>) => found.map(({ kind }) => kind);
const rising = [0.08, 0.1, 0.12, 0.14, 0.17, 0.2, 0.24];

/** Two fresh runs at each of 2 × 2 × 2 settings in shuffled order, three readings each, true power law, lognormal scatter. */
function cleanTrial(seed: number) {
  const random = seededRandom(seed);
  const corners = [0.08, 0.24].flatMap((feed) =>
    [1000, 2000].flatMap((speed) => ["fresh", "used"].map((edge) => ({ feed, speed, edge }))),
  );
  const rows = random.shuffle([...corners, ...corners]).map((settings) => {
    const run = Math.exp(0.05 * random.normal());
    const spots = [1, 2, 3].map(() => Math.exp(0.03 * random.normal()));
    return { settings, readings: spots.map((spot) => cusp(settings.feed, run * spot)) };
  });
  return madeTrial(rows);
}

describe("what a clean trial is told", () => {
  test("clean replicated trials raise no more remarks than chance allows", () => {
    // Seven checks of fit at 5 % or less each; shuffled orders of 16 hardly ever follow a factor. 40 trials, seeds written here.
    const raised = Array.from({ length: 40 }, (_, seed) => {
      const trial = cleanTrial(seed + 1);
      return kinds(remarks(trial, fitPowerLaw(trial)));
    }).flat();
    // Expected at most 40 × 3 checks that can fire on the log scale × 5 % = 6; more than 12 has a chance below 1 in 80.
    expect(raised.length).toBeLessThanOrEqual(12);
    expect(raised).not.toContain("moved-together");
    expect(raised).not.toContain("no-replicates");
    expect(raised).not.toContain("repeats-as-replicates");
  });
});

describe("factors that moved together", () => {
  const trial = madeTrial([
    ...rising.map((feed) => ({ settings: { feed }, readings: [cusp(feed)] })),
    { settings: { feed: 0.12, speed: 2000, edge: "fresh" }, readings: [0.35] },
  ]);
  const [first] = remarks(trial);

  test("a last pass that changed two things is named with its run, steps and the one pass that separates them", () => {
    expect(first).toMatchObject({
      kind: "moved-together",
      weight: "caution",
      title: "speed and edge moved together: these runs can't tell which of them did it.",
      evidence:
        "speed from 1500 rev/min to 2000 rev/min and edge from used to fresh, all at once and only in run 8; in the other 7 runs all stayed as they were.",
      runs: [8],
    });
    expect(first.addRuns).toHaveLength(1);
    const [added] = first.addRuns;
    const changed = [added["speed"] === 2000, added["edge"] === "fresh"];
    expect(changed.filter(Boolean)).toHaveLength(1);
  });

  test("cutting the proposed runs ends the remark", () => {
    const mended = madeTrial([
      ...trial.runs.map(({ settings }) => ({ settings, readings: [0.5] })),
      ...first.addRuns.map((settings) => ({ settings, readings: [0.5] })),
    ]);
    expect(kinds(remarks(mended))).not.toContain("moved-together");
  });

  test("the number of runs proposed is the number of effects that are missing", () => {
    const factors = ["a", "b", "c"].map((name) => ({ name, kind: "quantity" as const }));
    const run = (number: number, a: number, b: number, c: number) => ({
      run: number,
      block: 1,
      role: "given",
      settings: { a, b, c },
    });
    expect(separatingRuns(factors, [run(1, 0, 0, 0), run(2, 1, 1, 1)])).toHaveLength(2);
    expect(
      separatingRuns(factors, [run(1, 0, 0, 0), run(2, 1, 0, 0), run(3, 0, 1, 0), run(4, 0, 0, 1)]),
    ).toEqual([]);
  });
});

describe("order", () => {
  test("a rising sweep is told that drift can't be parted from feed, with steps counted", () => {
    const trial = madeTrial(rising.map((feed) => ({ settings: { feed }, readings: [cusp(feed)] })));
    const found = remarks(trial).find(({ kind }) => kind === "order-follows-factor");
    expect(found?.title).toBe(
      "feed was cut in rising order: wear and warm-up moved with it, so a drift can't be told from its effect.",
    );
    expect(found?.evidence).toContain("From run to run it rose 6 times and fell 0 times.");
    expect(found?.addRuns.length).toBeGreaterThan(0);
  });

  test("cutting the proposed runs ends the remark", () => {
    const rows = rising.map((feed) => ({ settings: { feed }, readings: [cusp(feed)] }));
    const found = remarks(madeTrial(rows)).find(({ kind }) => kind === "order-follows-factor");
    const more = found?.addRuns.map((settings) => ({ settings, readings: [0.5] })) ?? [];
    expect(kinds(remarks(madeTrial([...rows, ...more])))).not.toContain("order-follows-factor");
  });

  const rote = [0, 1, 2, 3, 4, 5, 6, 7].map((run) => ({
    settings: {
      feed: 0.1 * (1 + (run & 1)),
      speed: 1000 * (1 + ((run >> 1) & 1)),
      edge: run < 4 ? "fresh" : "used",
    },
    readings: [1 + 0.1 * run],
  }));

  test("factors that follow the order only between them are named in one remark", () => {
    const found = remarks(madeTrial(rote)).filter(({ kind }) => kind === "order-follows-factor");
    expect(found.map(({ title }) => title)).toEqual([
      "feed, speed and edge between them followed the cutting order: wear and warm-up moved with them, so a drift can't be told from their effects.",
    ]);
    expect(found[0].evidence).toBe(
      "The run number is a sum of their settings: allowing for a steady drift leaves their effects unknown.",
    );
    const more = found[0].addRuns.map((settings) => ({ settings, readings: [1] }));
    expect(more.length).toBeGreaterThan(0);
    expect(kinds(remarks(madeTrial([...rote, ...more])))).not.toContain("order-follows-factor");
  });

  test("a plain table is told that its lines are taken to stand in cutting order", () => {
    const columns = [
      { name: "feed", unit: "mm/rev", values: rising },
      { name: "Ra", unit: "µm", values: rising.map((feed) => cusp(feed)) },
    ];
    const fit = fitLinear(observeTable({ columns }, { response: "Ra", factors: ["feed"] }));
    expect(fitRemarks(fit).find(({ kind }) => kind === "order-follows-factor")?.title).toBe(
      "feed was cut in rising order, if the lines stand in cutting order: wear and warm-up moved with it, so a drift can't be told from its effect.",
    );
  });

  // With m runs at the lowest feed after n in rising order, 1/(1 − R²) of feed on the run number is 4 or more from n = 250 on for m = 6.
  test.each([
    [240, 6],
    [300, 0],
    [1200, 0],
  ])(
    "after %i runs in rising order %i passes outweigh it; where six don't, none is proposed",
    (count, passes) => {
      const feeds = Array.from({ length: count }, (_, run) => 0.1 + 0.0001 * run);
      const found = remarks(madeTrial(feeds.map((feed) => ({ settings: { feed } })))).find(
        ({ kind }) => kind === "order-follows-factor",
      );
      expect(found?.addRuns).toHaveLength(passes);
    },
  );

  test("inflation of a column at right angles is 1, of a straight line by itself infinite", () => {
    expect(intervalInflation(Float64Array.of(1, 2, 3, 4), [Float64Array.of(1, -1, -1, 1)])).toBeCloseTo(
      1,
      12,
    );
    expect(intervalInflation(Float64Array.of(1, 2, 3, 4), [Float64Array.of(2, 4, 6, 8)])).toBe(Infinity);
    // correlation 0.6 widens by 1/√(1 − 0.36) = 1.25
    expect(
      intervalInflation(Float64Array.of(1, 0, -1, 0), [Float64Array.of(0.6, 0.8, -0.6, -0.8)]),
    ).toBeCloseTo(1.25, 12);
  });

  test("a drift planted in the readings is found as a trend along the order", () => {
    const clean = cleanTrial(5);
    const drifting = madeTrial(
      clean.runs.map(({ run, settings }) => ({
        settings,
        readings: clean.readings
          .filter((reading) => reading.run === run)
          .map(({ value }) => value * 1.03 ** run),
      })),
    );
    expect(kinds(remarks(drifting, fitPowerLaw(drifting)))).toContain("trend-along-order");
  });
});

describe("replication", () => {
  test("one cut a setting: no replicates, one reading a run, with what it costs", () => {
    const trial = madeTrial(rising.map((feed) => ({ settings: { feed }, readings: [cusp(feed)] })));
    const found = remarks(trial, fitPowerLaw(trial, { terms: [{ feed: 1 }] }));
    expect(kinds(found)).toEqual(expect.arrayContaining(["no-replicates", "one-reading-a-run"]));
    const noReplicates = found.find(({ kind }) => kind === "no-replicates");
    expect(noReplicates?.evidence).toContain("The intervals rest on the scatter about the fitted model");
    expect(noReplicates?.addRuns.map(({ feed }) => feed)).toEqual([0.08, 0.14, 0.24]);
  });

  test("three readings on one surface entered as three runs are seen for what they are", () => {
    const trial = madeTrial(
      [0.08, 0.14, 0.24].flatMap((feed) =>
        [1, 1.01, 0.99].map((s) => ({ settings: { feed }, readings: [cusp(feed, s)] })),
      ),
    );
    expect(kinds(remarks(trial))).toContain("repeats-as-replicates");
    // 3 settings three times each: 3!·3!³/9! = 1,296/362,880 = 0.00357 of all orders.
    expect(remarks(trial).find(({ kind }) => kind === "repeats-as-replicates")?.evidence).toMatch(
      /would fall so in 0\.0036 of trials\.$/u,
    );
  });

  test("planned runs without a reading are named", () => {
    const trial = madeTrial([
      { settings: { feed: 0.08 }, readings: [0.3] },
      { settings: { feed: 0.24 }, readings: [1] },
      { settings: { feed: 0.24 } },
    ]);
    expect(remarks(trial).find(({ kind }) => kind === "runs-not-read")?.evidence).toBe("Missing: run 3.");
  });
});

describe("form and scatter", () => {
  test("one run 70 % off is named with its size", () => {
    const clean = cleanTrial(3);
    const spoilt = {
      ...clean,
      readings: clean.readings.map((r) => (r.run === 7 ? { ...r, value: r.value * 1.7 } : r)),
    };
    const found = remarks(spoilt, fitPowerLaw(spoilt)).find(({ kind }) => kind === "outlying-run");
    expect(found?.runs).toEqual([7]);
  });

  test("a straight line through a power law with replicates leaves curvature over", () => {
    const feeds = [0.08, 0.12, 0.18, 0.27, 0.4];
    const rows = feeds.flatMap((feed) =>
      [0.98, 1.02].map((s) => ({ settings: { feed }, readings: [feed ** 2 * 10 * s] })),
    );
    const trial = madeTrial(rows);
    expect(kinds(remarks(trial, fitLinear(trial, { terms: [{ feed: 1 }] })))).toContain(
      "curvature-left-over",
    );
    expect(kinds(remarks(trial, fitPowerLaw(trial, { terms: [{ feed: 1 }] })))).not.toContain(
      "curvature-left-over",
    );
  });

  test("scatter that is a percentage is seen when differences are fitted, and not on logarithms", () => {
    const random = seededRandom(11);
    const rows = Array.from({ length: 48 }, (_, index) => {
      const feed = [0.05, 0.1, 0.2, 0.4][index % 4];
      return { settings: { feed }, readings: [feed * 10 * Math.exp(0.2 * random.normal())] };
    });
    const trial = madeTrial(rows);
    expect(kinds(remarks(trial, fitLinear(trial, { terms: [{ feed: 1 }] })))).toContain(
      "scatter-grows-with-size",
    );
    expect(kinds(remarks(trial, fitPowerLaw(trial, { terms: [{ feed: 1 }] })))).not.toContain(
      "scatter-grows-with-size",
    );
  });

  test("a floor under the finish is seen as a flat low end", () => {
    const random = seededRandom(4);
    const rows = [0.04, 0.06, 0.12, 0.24, 0.36].flatMap((feed) =>
      [1, 2, 3].map(() => ({
        settings: { feed },
        readings: [Math.hypot(0.3, 10 * feed ** 2) * Math.exp(0.03 * random.normal())],
      })),
    );
    const trial = madeTrial(rows);
    const found = remarks(trial, fitPowerLaw(trial, { terms: [{ feed: 1 }] }));
    expect(found.find(({ kind }) => kind === "flat-at-low-end")?.title).toBe(
      "Below feed 0.06 mm/rev there is little finish left to gain.",
    );
  });

  test("a setting beyond what was cut is named", () => {
    const trial = cleanTrial(2);
    const found = remarks(trial, fitPowerLaw(trial), { predictions: [{ feed: 0.4 }] });
    expect(found.find(({ kind }) => kind === "prediction-outside")?.title).toContain("feed");
    expect(kinds(remarks(trial, fitPowerLaw(trial), { predictions: [{ feed: 0.2 }] }))).not.toContain(
      "prediction-outside",
    );
  });
});

describe("the gauge", () => {
  const rows = [0.1, 0.2, 0.5].map((feed) => ({ settings: { feed }, readings: [0.3] }));

  test("Ra finer than the nose radius can leave is named with the ideal value", () => {
    // ideal Ra 10.227 µm at 0.5 mm/rev and 0.8 mm nose radius, 1.6088 at 0.2, 0.401 at 0.1: recomputed from the circular cusp
    const found = remarks(madeTrial(rows, { spec: { cutter: { noseRadius: "0.8 mm" } } })).find(
      ({ kind }) => kind === "below-ideal",
    );
    expect(found?.runs).toEqual([1, 2, 3]);
    expect(found?.evidence).toBe(
      "Run 3: 0.300 µm read, 10.2 µm is the ideal Ra at that feed and nose radius.",
    );
  });

  test("teeth that may stand level leave the ideal of the feed per tooth, and no more is asked of them", () => {
    // Ra 0.3 µm at 0.1, 0.2, 0.5 mm/rev with 5 teeth: ideal at 0.02, 0.04, 0.1 mm is 0.016, 0.064 and 0.401 µm (0.03208 f²/r)
    const found = remarks(madeTrial(rows, { spec: { cutter: { noseRadius: "0.8 mm", teeth: 5 } } }));
    expect(found.find(({ kind }) => kind === "below-ideal")?.runs).toEqual([3]);
  });

  test("a wiper or an unstated nose radius raises nothing", () => {
    const wiper = madeTrial(rows, { spec: { cutter: { noseRadius: "0.8 mm", wiper: "1.2 mm" } } });
    expect(kinds(remarks(wiper))).not.toContain("below-ideal");
    expect(kinds(remarks(madeTrial(rows)))).not.toContain("below-ideal");
  });

  test("feed marks 0.5 mm apart want more than a 0.8 mm cut-off", () => {
    const found = remarks(madeTrial(rows, { spec: { measurement: { cutoff: "0.8 mm" } } }));
    expect(found.find(({ kind }) => kind === "cutoff-too-short")?.runs).toEqual([3]);
    const longer = remarks(madeTrial(rows, { spec: { measurement: { cutoff: "2.5 mm" } } }));
    expect(kinds(longer)).not.toContain("cutoff-too-short");
  });

  test("a trace along the lay is named", () => {
    expect(kinds(remarks(madeTrial(rows, { spec: { measurement: { across: "along" } } })))).toContain(
      "trace-along-lay",
    );
  });
});
