import { describe, expect, test } from "vitest";
import {
  equivalence,
  equivalencePower,
  equivalenceRuns,
  isInterval,
  type EquivalencePlan,
} from "../../../src/model/index.ts";
import { tableOf } from "./by-r.ts";

const edge = ["a", "a", "a", "b", "b", "b"];
const alike = tableOf({ edge }, [0.5, 0.52, 0.51, 0.51, 0.53, 0.52]);

describe("levels alike within a margin", () => {
  test("two one-sided tests are those of R's t.test with alternative", () => {
    const [pair] = equivalence(alike, { margin: 0.05 }).pairs;
    // R 4.2: max of t.test(b, a, mu = 0.05, alternative = "less", var.equal = TRUE) and mu = -0.05, "greater".
    expect(pair.p).toBeCloseTo(0.004024946551, 9);
    expect(pair.verdict).toBe("within");
    expect(pair.sentence).toBe(
      "No difference in Ra larger than 0.05 µm between edge b and a is likely (−0.007 to 0.027 µm, sure to 95 %, p 0.004).",
    );
    // The 90 % interval: 0.01 ± t(0.95, 4) 2.131847 × 0.01 × √(2/3).
    if (!isInterval(pair.value)) throw new Error(pair.value.reason);
    expect(pair.value.high).toBeCloseTo(0.01 + 2.131847 * 0.01 * Math.sqrt(2 / 3), 8);
  });

  test("what the runs can't say is said, with the runs that would", () => {
    const [pair] = equivalence(alike, { margin: 0.012 }).pairs;
    expect(pair.verdict).toBe("untold");
    const { runsToTell } = pair;
    expect(pair.sentence).toMatch(
      new RegExp(`can't be told .*If there is no difference, ${runsToTell} runs of each would tell`, "u"),
    );
    const plan = { standardDeviation: 0.01, margin: 0.012 };
    expect(equivalencePower({ ...plan, runs: runsToTell! })).toBeGreaterThanOrEqual(0.8);
    expect(equivalencePower({ ...plan, runs: runsToTell! - 1 })).toBeLessThan(0.8);
  });

  test("a difference beyond the margin is told, and one inside that is real as well", () => {
    const apart = tableOf({ edge }, [0.5, 0.52, 0.51, 0.71, 0.73, 0.72]);
    expect(equivalence(apart, { margin: 0.1 }).pairs[0]).toMatchObject({ verdict: "beyond" });
    expect(equivalence(apart, { margin: 0.3 }).pairs[0].sentence).toMatch(
      /No difference in Ra larger than 0\.3 µm .* There is a smaller one\.$/u,
    );
  });

  test("on logarithms the margin is a factor", () => {
    const [pair] = equivalence(alike, { margin: 1.1, log: true }).pairs;
    expect(pair.verdict).toBe("within");
    expect(pair.sentence).toMatch(/larger than a factor of 1\.1 between/u);
    // The same by hand on the logarithms.
    const logs = equivalence(tableOf({ edge }, [0.5, 0.52, 0.51, 0.51, 0.53, 0.52].map(Math.log)), {
      margin: Math.log(1.1),
    });
    expect(pair.p).toBeCloseTo(logs.pairs[0].p!, 12);
  });

  test("several pairs share the chance of error", () => {
    const three = tableOf(
      { edge: [...edge, "c", "c", "c"] },
      [0.5, 0.52, 0.51, 0.51, 0.53, 0.52, 0.5, 0.51, 0.52],
    );
    const all = equivalence(three, { margin: 0.05 });
    expect(all.pairs).toHaveLength(3);
    if (!isInterval(all.pairs[0].value)) throw new Error("no interval");
    expect(all.pairs[0].value.confidence).toBeCloseTo(1 - (2 * 0.05) / 3, 12);
    expect(equivalence(three, { margin: 0.05, control: "a" }).pairs).toHaveLength(2);
  });

  test.each([0, -0.1, Number.NaN, Infinity])("a margin of %d is refused in words", (margin) => {
    expect(() => equivalence(alike, { margin })).toThrow(/margin .*expected the largest difference/u);
  });
  test("a factor of 1 or less is refused on logarithms", () => {
    expect(() => equivalence(alike, { margin: 0.9, log: true })).toThrow(/above 1, such as 1\.1/u);
  });
  test("runs without scatter can't tell, with the reason", () => {
    const [pair] = equivalence(tableOf({ edge }, [1, 1, 1, 1, 1, 1]), { margin: 0.1 }).pairs;
    expect(pair).toMatchObject({ verdict: "untold", p: null, runsToTell: null });
    expect(pair.sentence).toMatch(/can't be told: every run is met exactly/u);
  });
});

describe("the chance of showing levels alike", () => {
  // R 4.2: integrate() over the density of the estimated scatter, rel.tol 1e-11.
  test.each<[EquivalencePlan, number]>([
    [{ runs: 5, standardDeviation: 0.05, margin: 0.1 }, 0.7835798747],
    [{ runs: 2, standardDeviation: 0.05, margin: 0.2 }, 0.6847433857],
    [{ runs: 8, levels: 3, standardDeviation: 0.05, margin: 0.08, difference: 0.03, pairs: 3 }, 0.385721853],
    [{ runs: 20, levels: 4, standardDeviation: 1, margin: 1, difference: 1 }, 0.04999810313],
    [{ runs: 12, standardDeviation: 1, margin: 1.5, difference: -0.4, confidence: 0.9 }, 0.9128105415],
  ])("%j gives %d", (plan, wanted) => {
    expect(Math.abs(equivalencePower(plan) - wanted)).toBeLessThan(1e-8);
  });

  test("at the margin it is the chance of error, to one side", () => {
    expect(equivalencePower({ runs: 30, standardDeviation: 1, margin: 3, difference: 3 })).toBeCloseTo(
      0.05,
      6,
    );
  });
  test("no number of runs up to a thousand is null", () => {
    expect(equivalenceRuns({ standardDeviation: 1, margin: 0.01 })).toBeNull();
  });
});
