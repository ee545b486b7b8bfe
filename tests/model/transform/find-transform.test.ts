import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { findTransform, fitLinear, fitPowerLaw, observeTable } from "../../../src/model/index.ts";
import { workedExample } from "../../reference/worked-example.ts";
import { tableOf } from "../comparison/by-r.ts";

interface ByR {
  readonly lambda: number;
  readonly low: number;
  readonly high: number;
  readonly logDeviance: number;
}
// The fixture is the project's own and has this shape.
const byR = JSON.parse(
  readFileSync(new URL("../../fixtures/comparisons/transform.json", import.meta.url), "utf8"),
) as Readonly<Record<string, ByR>>;

const survival = observeTable(workedExample("survival-3x4"), {
  response: "survival",
  factors: ["poison", "treatment"],
  categories: ["poison"],
});
const textile = observeTable(workedExample("textile-3x3x3"), {
  response: "cycles",
  factors: ["length", "amplitude", "load"],
});

describe("the power of the response", () => {
  test.each([
    ["survivalAdded", findTransform(survival)],
    ["survivalInteraction", findTransform(survival, { model: "interactions" })],
    ["textileFirst", findTransform(textile)],
    ["textileSecond", findTransform(textile, { model: "surface" })],
  ])("%s agrees with R", (name, found) => {
    const wanted = byR[name];
    // A likelihood is flat at its top: about 1e-8 of the power can be told from doubles, in R as here.
    expect(Math.abs(found.lambda - wanted.lambda)).toBeLessThan(2e-7);
    expect(found.low).toBeCloseTo(wanted.low, 8);
    expect(found.high).toBeCloseTo(wanted.high, 8);
    // Residual degrees of freedom in place of runs stretch what the likelihood may fall.
    expect(found.allowingForTerms.low).toBeLessThan(found.low);
    expect(found.allowingForTerms.high).toBeGreaterThan(found.high);
    const logarithm = found.choices.find(({ lambda }) => lambda === 0)!;
    expect(logarithm.deviance).toBeCloseTo(wanted.logDeviance, 8);
  });

  // Box and Cox 1964: −0.75, −1.13 to −0.37 read off a graph; −0.06, −0.18 to 0.06.
  test("the published examples to the digits printed", () => {
    const yarn = findTransform(textile);
    expect([yarn.lambda, yarn.low, yarn.high].map((value) => value.toFixed(2))).toEqual([
      "-0.06",
      "-0.18",
      "0.06",
    ]);
    const times = findTransform(survival);
    expect(times.lambda.toFixed(2)).toBe("-0.75");
    expect(Math.abs(times.low + 1.13)).toBeLessThan(0.02);
    expect(Math.abs(times.high + 0.37)).toBeLessThan(0.02);
  });

  test("allowing for terms the residual sum of squares rises by as much as χ² on residual degrees of freedom allows", () => {
    const { allowingForTerms, lambda } = findTransform(survival);
    const times = workedExample("survival-3x4").columns.find(({ name }) => name === "survival")!.values;
    const logs = times.map((value) => Math.log(Number(value)));
    const centre = logs.reduce((sum, value) => sum + value, 0) / logs.length;
    const rest = (power: number): number => {
      const values = logs.map((value) => Math.expm1(power * (value - centre)) / power);
      const { residualSd } = fitLinear({
        ...survival,
        rows: survival.rows.map((row, i) => ({ ...row, value: values[i], single: [values[i]] })),
      });
      return residualSd!;
    };
    // 48 runs less 6 terms; χ² of one degree of freedom at 95 % is 3.841458820694124.
    for (const end of [allowingForTerms.low, allowingForTerms.high])
      expect(2 * 42 * Math.log(rest(end) / rest(lambda))).toBeCloseTo(3.841458820694124, 6);
  });

  test("the physical choice comes first, with what the readings say of it", () => {
    const yarn = findTransform(textile);
    expect(yarn.choices.map(({ name }) => name)).toEqual(["logarithm", "none", "square root", "reciprocal"]);
    expect(yarn.offered).toMatchObject({ name: "logarithm", objectedTo: false });
    expect(yarn.text).toMatch(
      /logarithms come first\. The readings do not object to the logarithm \(effects are ratios\) \(p 0\.37\)\. They object to the reading as it is/u,
    );
    const times = findTransform(survival);
    expect(times.offered).toMatchObject({ name: "reciprocal" });
    expect(times.text).toMatch(/object to the logarithm .* not to the reciprocal/u);
  });

  test("even scatter on a narrow range offers the reading as it is", () => {
    const value = [10.1, 10.3, 10.2, 10.0, 12.1, 11.9, 12.0, 12.2];
    const found = findTransform(tableOf({ edge: ["a", "a", "a", "a", "b", "b", "b", "b"] }, value));
    expect(found.choices[0].name).toBe("none");
    expect(found.offered!.name).toBe("none");
    expect([found.low, found.high]).toEqual([-5, 5]);
    expect(found.text).toMatch(/below −5 to above 5/u);
  });

  test("the unit of the response does not matter", () => {
    const inch = findTransform({
      ...survival,
      rows: survival.rows.map((row) => ({ ...row, value: row.value * 36_000, single: [] })),
    });
    expect(inch.lambda).toBeCloseTo(findTransform(survival).lambda, 7);
  });

  test("a profile for a figure reaches beyond the interval and is 0 at its top", () => {
    const { profile, low, high } = findTransform(textile);
    expect(profile[0].lambda).toBeLessThan(low);
    expect(profile.at(-1)!.lambda).toBeGreaterThan(high);
    expect(Math.max(...profile.map(({ logLikelihood }) => logLikelihood))).toBeLessThanOrEqual(1e-9);
  });
});

describe("refused in words", () => {
  const edge = ["a", "a", "b", "b"];
  test.each([0, -1])("a reading of %d", (bad) => {
    expect(() => findTransform(tableOf({ edge }, [1, 2, 3, bad]))).toThrow(
      /run 4: Ra .*readings above zero.*fit the response as it is/u,
    );
  });
  test("readings all alike, no run left over, and fits on logarithms", () => {
    expect(() => findTransform(tableOf({ edge }, [1, 1, 1, 1]))).toThrow(/runs with scatter/u);
    expect(() => findTransform(tableOf({ edge: ["a", "b"] }, [1, 2]))).toThrow(/runs left over/u);
    const logs = fitLinear(tableOf({ edge }, [1, 2, 3, 5]), { log: true });
    expect(() => findTransform(logs)).toThrow(/Leave the logarithm out/u);
    expect(() => findTransform(fitPowerLaw(textile))).toThrow(/Leave the logarithm out/u);
  });
  test("readings over three hundred powers of ten are an answer all the same", () => {
    const { lambda, low, high } = findTransform(tableOf({ edge }, [1e-150, 1e-149, 1e150, 1e151]));
    for (const value of [lambda, low, high]) expect(Number.isFinite(value)).toBe(true);
    expect(Math.abs(lambda)).toBeLessThan(0.1);
  });
});
