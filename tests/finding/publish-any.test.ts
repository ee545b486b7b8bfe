import fc from "fast-check";
import { parseHTML } from "linkedom";
import { expect, test } from "vitest";
import { extractData, publish } from "../../src/finding/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { reading, trialOf } from "./trials.ts";

const feed = fc.record({
  name: fc.constant("feed"),
  kind: fc.constant("quantity"),
  unit: fc.constant("mm/rev"),
  low: fc.constantFrom(0.05, 0.1),
  high: fc.constantFrom(0.11, 0.3),
  scale: fc.constantFrom("linear", "log"),
});
const speed = fc.record({
  name: fc.constant("speed"),
  kind: fc.constant("quantity"),
  unit: fc.constant("m/min"),
  low: fc.constant(100),
  high: fc.constantFrom(120, 400),
});
const edge = fc.record({
  name: fc.constant("edge"),
  kind: fc.constant("category"),
  levels: fc.constantFrom(["fresh", "used"], ["a", "b", "c"]),
});

/** Readings as gauges give them on a bad day: all alike, nothing, below zero, enormous, on few runs, mostly voided. */
const value = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0.2, max: 2, noNaN: true }) },
  fc.constantFrom(0.5, 0.5, 0, -0.3, 1e-9, 1e6),
);

const anyTrial = fc
  .record({
    factors: fc
      .tuple(fc.option(feed), fc.option(speed), fc.option(edge))
      .map((all) => all.filter((factor) => factor !== null))
      .filter((all) => all.length > 0),
    replicates: fc.integer({ min: 1, max: 3 }),
    centrePoints: fc.integer({ min: 0, max: 2 }),
    blocks: fc.constantFrom(1, 1, 2),
    display: fc.constantFrom("metric", "inch"),
    aim: fc.constantFrom("smaller", "larger", "target"),
    alike: fc.boolean(),
    values: fc.array(value, { minLength: 1, maxLength: 40 }),
    left: fc.double({ min: 0, max: 1, noNaN: true }),
    spots: fc.integer({ min: 1, max: 2 }),
  })
  .map(({ factors, replicates, centrePoints, blocks, display, aim, alike, values, left, spots }): Trial => {
    const quantities = factors.some((factor) => factor.kind === "quantity");
    const layout = {
      kind: "factorial",
      replicates,
      centrePoints: quantities ? centrePoints : 0,
      blocks: replicates === 2 ? blocks : 1,
      seed: 3,
    };
    let at = 0;
    return trialOf(
      { factors, layout, display, responses: [{ name: "Ra", unit: "µm", aim, limit: 0.8 }] },
      (run) => {
        if (run.run > 1 && (run.run * 0.618) % 1 < left) return [];
        return Array.from({ length: spots }, (_, spot) => {
          const next = alike ? (values[0] ?? 0) : (values[at++ % values.length] ?? 0);
          return reading(run.run, next, { spot: spot + 1, void: at % 11 === 10 ? "gauge fell" : "" });
        });
      },
    );
  })
  .filter((trial) => trial.readings.some((one) => one.void === ""));

test("any trial with a reading gives a page: no NaN on it, every id once, and the data come back", () => {
  fc.assert(
    fc.property(anyTrial, (trial) => {
      const { html } = publish(trial, { date: "2026-11-25" });
      const { document } = parseHTML(html);
      const data = document.querySelector("script")?.textContent ?? "";
      expect(document.body.textContent.replace(data, "")).not.toMatch(/NaN|undefined|Infinity|\[object/);
      const ids = [...document.querySelectorAll("[id]")].map((element) => element.id);
      expect(new Set(ids).size).toBe(ids.length);
      expect(extractData(html).trial.readings).toEqual(trial.readings);
    }),
    { seed: 20261125, numRuns: 60 },
  );
});
