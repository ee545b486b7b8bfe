import { describe, expect, test } from "vitest";
import { fitLinear, observeTable, ridgePath, steepestPath } from "../../../src/model/index.ts";
import { fitOf, workedExample } from "../../reference/worked-example.ts";

const example = workedExample("yield-central-composite");
const fit = fitOf(example, example.analyses[0]);

describe("ridgePath", () => {
  test.each(["larger", "smaller"] as const)(
    "finds the %s end of each circle, against every degree of it",
    (aim) => {
      for (const { radius, settings, prediction } of ridgePath(fit, { aim })) {
        expect(Math.hypot(settings["time"], settings["temperature"])).toBeCloseTo(radius, 9);
        const all = Array.from({ length: 3600 }, (_, k) => {
          const angle = (Math.PI * k) / 1800;
          return fit.predict({
            time: radius * Math.cos(angle),
            temperature: radius * Math.sin(angle),
          }).estimate;
        });
        const best = aim === "larger" ? Math.max(...all) : Math.min(...all);
        // A tenth of a degree on either side changes a smooth curve by its square.
        expect(Math.abs(prediction.estimate - best)).toBeLessThan(1e-4);
        if (aim === "larger") expect(prediction.estimate).toBeGreaterThanOrEqual(best - 1e-9);
        else expect(prediction.estimate).toBeLessThanOrEqual(best + 1e-9);
      }
    },
  );

  test("goes along the bend where there is no slope", () => {
    const points = [-1, 0, 1].flatMap((x) => [-1, 0, 1].map((z) => ({ x, z })));
    const flat = fitLinear(
      observeTable(
        {
          columns: [
            { name: "x", unit: "", values: points.map(({ x }) => x) },
            { name: "z", unit: "", values: points.map(({ z }) => z) },
            { name: "y", unit: "", values: points.map(({ x, z }) => 1 + x * x - z * z) },
          ],
        },
        { response: "y", factors: ["x", "z"] },
      ),
      { model: "surface" },
    );
    const [, , last] = ridgePath(flat, { aim: "larger", radii: [0, 0.5, 1] });
    expect(Math.abs(last.settings["x"])).toBeCloseTo(1, 6);
    expect(last.settings["z"]).toBeCloseTo(0, 6);
    const [, low] = ridgePath(flat, { aim: "smaller", radii: [0, 1] });
    expect(Math.abs(low.settings["z"])).toBeCloseTo(1, 6);
  });

  test("rounds to what the machine can set and predicts there", () => {
    const [, point] = ridgePath(fit, {
      aim: "larger",
      radii: [0, 0.5],
      increments: { time: 0.1, temperature: 0.25 },
    });
    expect(point.settings).toEqual({ time: 0.4, temperature: 0.25 });
    expect(point.prediction.estimate).toBe(fit.predict({ time: 0.4, temperature: 0.25 }).estimate);
  });

  test("refuses a fit without squares, and a radius below zero", () => {
    expect(() => ridgePath(fit, { aim: "larger", radii: [-1] })).toThrow(
      "a radius of -1; expected a number from 0, in coded steps.",
    );
    const first = workedExample("centre-points-2x2");
    expect(() =>
      ridgePath(fitOf(first, { ...first.analyses[0], terms: undefined, model: "main" }), { aim: "larger" }),
    ).toThrow("a fit without a surface of second degree");
  });
});

describe("steepestPath", () => {
  const first = workedExample("centre-points-2x2");
  const [a, b] = first.analyses[0].factors;
  const slopes = fitOf(first, { ...first.analyses[0], terms: undefined, model: "main" });

  test("moves factors in the ratio of their coded slopes (Montgomery, example 11.1: 0.325 to 0.775)", () => {
    const path = steepestPath(slopes, { aim: "larger" });
    expect(path.lead).toBe(a);
    expect(path.direction[1] / path.direction[0]).toBeCloseTo(0.325 / 0.775, 10);
    const moved = path.steps.map(({ settings }) => settings[b] / (settings[a] || 1));
    expect(moved[4]).toBeCloseTo(0.325 / 0.775, 9);
    expect(path.steps.at(-1)!.prediction.extrapolation).not.toEqual([]);
  });

  test("the other way is the same line backwards", () => {
    const up = steepestPath(slopes, { aim: "larger" });
    const down = steepestPath(slopes, { aim: "smaller" });
    up.direction.forEach((share, i) => expect(down.direction[i]).toBeCloseTo(-share, 12));
    expect(down.withinDegrees).toBeCloseTo(up.withinDegrees!, 6);
  });

  test("how sure the way is follows from equal and unrelated slopes: tan of the angle", () => {
    // With covariance s² I the cone is sin² ≤ (k − 1) F s² / |b|² about the estimate (Box and Draper).
    const s = slopes.coefficients.find(({ term }) => term[a] === 1)!.standardError!;
    const path = steepestPath(slopes, { aim: "larger" });
    const length = Math.hypot(...slopes.secondDegree!.gradient);
    // F(0.95; 1, 6) = 5.98738 (tables).
    const scaled = slopes.residualDf === 6 ? 5.987378 : NaN;
    const expected = (180 / Math.PI) * Math.asin((Math.sqrt(scaled) * s) / length);
    expect(path.withinDegrees).toBeCloseTo(expected, 4);
  });

  test("says it where no way can be ruled out, or nothing is left to tell", () => {
    const noise = fitLinear(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "mm/rev", values: [0.1, 0.2, 0.1, 0.2, 0.1, 0.2, 0.1, 0.2] },
            { name: "speed", unit: "m/min", values: [100, 100, 200, 200, 100, 100, 200, 200] },
            { name: "Ra", unit: "µm", values: [1, 1.1, 0.9, 1.05, 1.2, 0.95, 1.1, 1] },
          ],
        },
        { response: "Ra", factors: ["feed", "speed"] },
      ),
    );
    const path = steepestPath(noise, { aim: "smaller" });
    expect(path.withinDegrees).toBe(180);
    expect(path.text).toContain("The slopes are too uncertain to rule out any way with 95 % confidence.");
    expect(path.text).toContain("To make Ra smaller, move ");
  });

  test("refuses a lead that isn't there and a step that is none", () => {
    expect(() => steepestPath(slopes, { aim: "larger", lead: "depth" })).toThrow(
      '"depth" as the lead; expected ',
    );
    expect(() => steepestPath(slopes, { aim: "larger", step: 0 })).toThrow(
      "a step of 0; expected a number above zero.",
    );
  });
});
