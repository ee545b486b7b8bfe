import { describe, expect, test } from "vitest";
import { observe } from "../../src/model/index.ts";
import { repeatScatter } from "../../src/model/repeat-scatter.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { feed, madeTrial } from "./made-trial.ts";

describe("repeatScatter", () => {
  test("parts the variance of its example into repeat and run", () => {
    const readings = [
      { run: 1, value: 1 },
      { run: 1, value: 3 },
      { run: 2, value: 5 },
      { run: 2, value: 7 },
    ].map((reading) => ({ ...reading, group: "a", spot: 1 }));
    const scatter = repeatScatter(readings)!;
    // Mean square within runs (1 + 1 + 1 + 1)/2 = 2; between them 2 · (2² + 2²)/1 = 16; (16 − 2)/2 = 7.
    expect(scatter.withinSpot).toBeCloseTo(Math.sqrt(2), 15);
    expect(scatter.withinSpotDf).toBe(2);
    expect(scatter.betweenRuns).toBeCloseTo(Math.sqrt(7), 14);
    expect(scatter.betweenRunsDf).toBe(1);
    expect(scatter.shares.map(({ source }) => source)).toEqual(["repeat", "run"]);
    expect(scatter.shares[0].share).toBeCloseTo(2 / 9, 14);
    expect(scatter.shares[1].share).toBeCloseTo(7 / 9, 14);
  });

  test("agrees with the nested mean squares of R on unequal numbers of readings", () => {
    // R 4.2: d <- data.frame(g=rep(c("a","b"),c(9,6)), r=c(1,1,1,1,2,2,2,3,3,4,4,4,5,5,5), s=c(1,1,2,2,3,3,4,5,6,7,7,8,9,9,10),
    //   y=c(1.2,1.5,1.1,1.9,2.4,2.2,2.9,0.8,1.3,3.1,3.6,2.7,4.2,4.0,4.9)); anova(lm(y ~ g + factor(r) + factor(s), d))
    // mean squares: r 1.783055555555557 (3 df), s 0.219166666666667 (5 df), residual 0.106 (5 df).
    const run = [1, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5, 5, 5];
    const spot = [1, 1, 2, 2, 3, 3, 4, 5, 6, 7, 7, 8, 9, 9, 10];
    const y = [1.2, 1.5, 1.1, 1.9, 2.4, 2.2, 2.9, 0.8, 1.3, 3.1, 3.6, 2.7, 4.2, 4.0, 4.9];
    const scatter = repeatScatter(
      y.map((value, i) => ({ group: i < 9 ? "a" : "b", run: run[i], spot: spot[i], value })),
    )!;
    expect(scatter.withinSpot).toBeCloseTo(Math.sqrt(0.106), 12);
    // Σ n²/n per run: 2, 5/3, 1, 5/3, 5/3 = 8; per group (4+4+4+1+1+1)/9, (4+1+4+1)/6: 10/3.
    const spotVariance = (0.219166666666667 - 0.106) / ((15 - 8) / 5);
    expect(scatter.betweenSpots).toBeCloseTo(Math.sqrt(spotVariance), 12);
    const runUnit = (15 - (16 + 9 + 4) / 9 - (9 + 9) / 6) / 3;
    const runVariance = (1.783055555555557 - 0.106 - spotVariance * ((8 - 10 / 3) / 3)) / runUnit;
    expect(scatter.betweenRuns).toBeCloseTo(Math.sqrt(runVariance), 12);
    expect(scatter.shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 14);
  });

  test("gives a part that comes out below zero as zero, and says so", () => {
    const scatter = repeatScatter([
      { group: "a", run: 1, spot: 1, value: 0 },
      { group: "a", run: 1, spot: 1, value: 4 },
      { group: "a", run: 2, spot: 1, value: 1 },
      { group: "a", run: 2, spot: 1, value: 3 },
    ])!;
    expect(scatter.betweenRuns).toBe(0);
    expect(scatter.notes).toEqual([
      "The scatter from run to run came out below zero by mean squares and is given as zero: the scatter within runs alone explains it.",
    ]);
  });

  test("is nothing where each run was read once, and tells no share of runs without replicates", () => {
    expect(repeatScatter([{ group: "a", run: 1, spot: 1, value: 1 }])).toBeNull();
    const scatter = repeatScatter([
      { group: "a", run: 1, spot: 1, value: 1 },
      { group: "a", run: 1, spot: 2, value: 2 },
    ])!;
    expect(scatter).toMatchObject({ withinSpot: null, betweenRuns: null, shares: [], withinRunDf: 1 });
    expect(scatter.notes).toEqual([
      "Each spot was read once, so the scatter from spot to spot holds the gauge's own.",
      "No setting was cut twice, so the scatter from run to run can't be told.",
    ]);
  });

  test("finds the true parts of simulated trials on the average", () => {
    const random = seededRandom(20261125);
    const sums = { repeat: 0, spot: 0, run: 0 };
    const trials = 400;
    for (let t = 0; t < trials; t++) {
      const runs = Array.from({ length: 8 }, (_, r) => {
        const run = 0.3 * random.normal();
        const spots = [0, 1, 2].map(() => {
          const spot = 0.2 * random.normal();
          return [0, 1].map(() => 1 + run + spot + 0.1 * random.normal());
        });
        return { settings: { feed: r % 2 === 0 ? 0.08 : 0.24 }, spots };
      });
      const { repeats } = observe(madeTrial(runs, { factors: [feed] }));
      sums.repeat += repeats!.withinSpot! ** 2;
      sums.spot += repeats!.betweenSpots! ** 2;
      sums.run += repeats!.betweenRuns! ** 2;
    }
    // Standard errors of the averages (normal theory): repeat 0.0001, spot 0.0008, run 0.003; four of them allowed.
    expect(Math.abs(sums.repeat / trials - 0.01)).toBeLessThan(0.0005);
    expect(Math.abs(sums.spot / trials - 0.04)).toBeLessThan(0.0032);
    expect(Math.abs(sums.run / trials - 0.09)).toBeLessThan(0.013);
  });
});
