import { describe, expect, test } from "vitest";
import {
  bootstrap,
  bootstrapInWorkers,
  fitLinear,
  fitPowerLaw,
  observeTable,
} from "../../../src/model/index.ts";
import type { Bootstrap } from "../../../src/model/index.ts";
import {
  accelerationOf,
  correctedEnds,
  percentileEnds,
} from "../../../src/model/resample/bootstrap-interval.ts";
import { residualPool } from "../../../src/model/resample/bootstrap-order.ts";
import { chiSquareQuantile, seededRandom } from "../../../src/numerics/index.ts";

function observed(
  columns: Readonly<Record<string, readonly (number | string)[]>>,
  factors: readonly string[],
  block?: string,
) {
  return observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors, ...(block === undefined ? {} : { block }) },
  );
}

const random = seededRandom(7);
const feed = Array.from({ length: 24 }, (_, i) => [0.08, 0.12, 0.16, 0.24][i % 4]);
const edge = Array.from({ length: 24 }, (_, i) => (i % 3 === 0 ? "used" : "fresh"));
const y = feed.map(
  (at, i) => 12 * at ** 1.4 * (edge[i] === "used" ? 1.1 : 1) * Math.exp(0.1 * random.normal()),
);
const law = fitPowerLaw(observed({ feed, edge, y }, ["feed", "edge"]));

const plain = ({ figures, ...rest }: Bootstrap) =>
  JSON.stringify({
    ...rest,
    figures: figures.map((one) => ({
      ...one,
      percentile: one.percentile.text,
      corrected: one.corrected.text,
    })),
  });

describe("the interval of stated draws", () => {
  const draws = Float64Array.from({ length: 999 }, (_, k) => chiSquareQuantile((k + 1) / 1000, 5));

  test("corrected for bias and acceleration is the one worked out in R (bca.R)", () => {
    // Digits of R's printed figures, less what two quantile functions may differ by.
    const first = correctedEnds(draws, 5, 0.05, 0.95);
    expect(first).toHaveProperty("low", expect.closeTo(1.45585068572915, 11));
    expect(first).toHaveProperty("high", expect.closeTo(17.28055863487795, 10));
    const second = correctedEnds(draws, 4.2, -0.02, 0.9);
    expect(second).toHaveProperty("low", expect.closeTo(0.973850691806702, 11));
    expect(second).toHaveProperty("high", expect.closeTo(10.277114358835339, 10));
  });

  test("by percentiles is the 25th and 975th of 999 draws", () => {
    const ends = percentileEnds(draws, 0.95);
    expect(ends).toHaveProperty("low", expect.closeTo(draws[24], 13));
    expect(ends).toHaveProperty("high", expect.closeTo(draws[974], 12));
  });

  test("the acceleration of a mean is its skewness over 6 √n", () => {
    const x = [1, 2, 3, 10];
    const deviations = x.map((value) => value - 4);
    const [second, third] = [2, 3].map((power) => deviations.reduce((sum, d) => sum + d ** power, 0) / 4);
    expect(accelerationOf(deviations)).toBeCloseTo(third / second ** 1.5 / 6 / Math.sqrt(4), 14);
    expect(accelerationOf([0, 0])).toBe(0);
  });
});

describe("drawing a fit anew", () => {
  test("residuals of runs scatter the effect as the exact sum over all draws says", () => {
    const fit = fitLinear(observed({ x: [0, 0, 1, 1, 1], y: [1, 3, 4, 9, 5] }, ["x"]));
    const pool = residualPool(fit);
    const variance = pool.reduce((sum, value) => sum + value ** 2, 0) / pool.length;
    // The effect is mean(3) − mean(2): its variance over all 5⁵ draws is variance × (1/3 + 1/2).
    const [effect] = bootstrap(fit, { draws: 20_000, seed: 3 }).figures;
    const exact = Math.sqrt(variance * (1 / 3 + 1 / 2));
    // A standard deviation of 20,000 draws is known to within half a percent; four of these.
    expect(Math.abs(effect.standardError! / exact - 1)).toBeLessThan(0.02);
    expect(Math.abs(effect.bias!)).toBeLessThan((4 * exact) / Math.sqrt(20_000));
  });

  test("whole runs, drawn as weights, give what a fit to the drawn rows from nothing gives", () => {
    const fit = fitLinear(observed({ x: [1, 2, 3, 4, 5, 6], y: [1, 2.2, 2.9, 4.3, 4.8, 6.1] }, ["x"]));
    const told = bootstrap(fit, { by: "runs", draws: 500, seed: 11 });
    // The second road: the same stream, rows written out as often as drawn, and fitted.
    const again = seededRandom(11, { stream: 0 });
    const slopes: number[] = [];
    while (slopes.length < 500) {
      const rows = Array.from({ length: 6 }, () => again.integer(6));
      if (new Set(rows).size < 2) continue;
      const drawn = fitLinear(
        observed({ x: rows.map((i) => i + 1), y: rows.map((i) => fit.rows[i].value) }, ["x"]),
      );
      slopes.push(5 * drawn.coefficients[1].estimate);
    }
    const mean = slopes.reduce((sum, one) => sum + one, 0) / 500;
    const error = Math.sqrt(slopes.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 499);
    expect(told.figures[0].standardError).toBeCloseTo(error, 11);
    expect(told.figures[0].bias).toBeCloseTo(mean - 5 * fit.coefficients[1].estimate, 11);
  });

  test("effects, ratios and predictions stand at the fit's own estimates, on the response's scale", () => {
    const at = [{ feed: 0.2, edge: "used" }];
    const told = bootstrap(law, { draws: 400, at, ratios: [{ factor: "feed", multiplier: 0.5 }] });
    const [feedEffect, edgeEffect, half, there] = told.figures;
    expect(feedEffect.estimate).toBeCloseTo(law.effects[0].value.estimate!, 12);
    expect(edgeEffect.estimate).toBeCloseTo(law.effects[1].value.estimate!, 12);
    expect(half.estimate).toBeCloseTo(law.ratio("feed", 0.5).estimate!, 12);
    expect(there.estimate).toBeCloseTo(law.predict(at[0]).estimate, 12);
    expect(there.label).toBe("feed 0.2, edge used");
    for (const { percentile, corrected, estimate } of told.figures) {
      expect(percentile).toMatchObject({ confidence: 0.95 });
      expect("low" in corrected && corrected.low < estimate! && estimate! < corrected.high).toBe(true);
    }
  });

  test("the figures are the same in threads as here, and progress counts up to all draws", async () => {
    const options = { draws: 40_000, seed: 5 };
    const seen: number[] = [];
    const there = await bootstrapInWorkers(law, {
      ...options,
      workers: 2,
      onProgress: ({ drawn }) => seen.push(drawn),
    });
    expect(plain(there)).toBe(plain(bootstrap(law, options)));
    expect(seen).toEqual(Array.from({ length: 80 }, (_, k) => 500 * (k + 1)));
  });

  test("what was drawn before a stop is kept, and said", async () => {
    const controller = new AbortController();
    const told = await bootstrapInWorkers(law, {
      draws: 1_000_000,
      signal: controller.signal,
      onProgress: ({ drawn }) => {
        if (drawn >= 1500) controller.abort();
      },
    });
    expect(told.stopped).toBe(true);
    expect(told.draws).toBeGreaterThanOrEqual(1500);
    expect(told.draws).toBeLessThan(1_000_000);
    expect(told.notes[1]).toBe(
      "Stopped before all of 1000000 were drawn; the figures are of those that were.",
    );
    expect(told.figures[0].percentile).toHaveProperty("low");
  });

  test("runs are drawn within their blocks, so every draw can tell the blocks apart", () => {
    const day = feed.map((_, i) => (i < 12 ? "Monday" : "Tuesday"));
    const fit = fitLinear(observed({ feed, y, day }, ["feed"], "day"));
    const told = bootstrap(fit, { by: "runs", draws: 400 });
    expect(told.again).toBe(0);
    expect(told.notes[0]).toBe("400 draws of whole runs, each block by itself, seed 1.");
  });
});

describe("a bootstrap that can't be made", () => {
  test("residuals of single readings are refused; whole runs of several readings are drawn", () => {
    const rows = {
      run: [1, 1, 2, 2, 3, 3, 4, 4],
      x: [1, 1, 2, 2, 3, 3, 4, 4],
      y: [1, 1.1, 2, 2.2, 3.1, 2.9, 4, 4.3],
    };
    const observations = observed(rows, ["x"]);
    const readings = {
      ...observations,
      rows: rows.run.map((run, i) => ({
        run,
        order: i + 1,
        block: 1,
        settings: { x: rows.x[i] },
        value: rows.y[i],
        readings: 1,
        single: [rows.y[i]],
      })),
    };
    const fit = fitLinear(readings);
    expect(() => bootstrap(fit)).toThrow(/residuals of single readings \(run 1 has several\)/);
    expect(bootstrap(fit, { by: "runs", draws: 200 }).draws).toBe(200);
  });

  test.each([
    ["without scatter", { x: [1, 2], y: [1, 3] }, /no run is left to show the scatter/],
    ["of runs met exactly", { x: [1, 2, 3], y: [2, 4, 6] }, /meets every run exactly/],
    ["of one value throughout", { x: [1, 2, 3], y: [2, 2, 2] }, /meets every run exactly/],
    ["of a setting that was never moved", { x: [1, 1, 1], y: [2, 2.1, 2.5] }, /./],
  ])("%s has its reason in the interval's place", (_, columns, reason) => {
    const told = bootstrap(fitLinear(observed(columns, ["x"])), { draws: 200 });
    for (const { percentile, corrected } of told.figures) {
      expect(percentile).not.toHaveProperty("low");
      expect(corrected.text).toMatch(reason);
    }
    expect(plain(told)).not.toMatch(/NaN|Infinity|undefined/);
  });

  test("draws of runs that mostly can't tell the terms apart are said to be so", () => {
    const fit = fitLinear(
      observed({ a: [0, 1, 0, 0, 0], b: [0, 0, 1, 0, 0], c: [0, 0, 0, 1, 0], y: [1, 2, 3, 5, 1.5] }, [
        "a",
        "b",
        "c",
      ]),
    );
    const told = bootstrap(fit, { by: "runs", draws: 200 });
    expect(told.figures[0].percentile.text).toMatch(
      /in most draws the runs drawn can't tell the terms apart/,
    );
  });

  test("too few draws are refused", () => {
    expect(() => bootstrap(law, { draws: 10 })).toThrow(
      "10 draws; expected a whole number from 200 to 1,000,000.",
    );
  });
});
