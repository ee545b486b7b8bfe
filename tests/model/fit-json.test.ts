import { describe, expect, test } from "vitest";
import { fitJson, fitLinear, observeTable } from "../../src/model/index.ts";
import { fitOf, workedExample } from "../reference/worked-example.ts";

describe("fitJson", () => {
  test("names terms as the command line does: the intercept empty, levels against the first", () => {
    const example = workedExample("surface-finish-speed-tool");
    const json = fitJson(fitOf(example, example.analyses[0]), { at: [{ speed: 230, tool: "416" }] });
    expect(json.coefficients.map(({ term, label }) => ({ term, label }))).toEqual([
      { term: {}, label: "intercept" },
      { term: { speed: 1 }, label: "speed" },
      { term: { "tool=416": 1 }, label: "tool 416 against 302" },
    ]);
    expect(Object.keys(json.coefficients[0])).toEqual([
      "term",
      "label",
      "estimate",
      "standardError",
      "low",
      "high",
      "t",
      "df",
      "p",
    ]);
    expect(json.analysis.map(({ source, df }) => [source, df])).toEqual([
      ["speed", 1],
      ["tool", 1],
      ["residual", 17],
    ]);
    expect(json.predictions).toHaveLength(1);
    expect(json.predictions![0].at).toEqual({ speed: 230, tool: "416" });
    expect(json.predictions![0].single!.low).toBeLessThan(json.predictions![0].mean!.low);
    const unlike = workedExample("tool-life-speed-type");
    expect(fitJson(fitOf(unlike, unlike.analyses[0])).noLackOfFit).toBe(
      "No setting was cut twice, so there is no pure error to judge the fit against.",
    );
  });

  test("adds surface, curvature and unreplicated effects where they apply, and only there", () => {
    const keys = (name: string, k = 0) => {
      const example = workedExample(name);
      return Object.keys(fitJson(fitOf(example, example.analyses[k]))).filter((key) =>
        ["surface", "curvature", "unreplicated"].includes(key),
      );
    };
    expect(keys("yield-central-composite")).toEqual(["surface"]);
    expect(keys("centre-points-2x2")).toEqual(["curvature"]);
    expect(keys("filtration-2x2x2x2")).toEqual(["unreplicated"]);
    expect(keys("tool-life-2x2x2")).toEqual([]);
  });

  test("goes through JSON unchanged: no number that JSON can't hold, even where the runs are met exactly", () => {
    const exact = fitLinear(
      observeTable(
        {
          columns: [
            { name: "x", unit: "", values: [1, 2, 3, 4] },
            { name: "y", unit: "", values: [2, 4, 6, 8] },
          ],
        },
        { response: "y", factors: ["x"] },
      ),
    );
    const json = fitJson(exact);
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
    expect(json.coefficients[1]).toMatchObject({
      estimate: 2,
      standardError: 0,
      low: 2,
      high: 2,
      t: null,
      p: null,
    });
    expect(json).toMatchObject({ residualSd: 0, rSquared: 1 });
  });

  test("holds what one value for all gives: no R², no effect", () => {
    const flat = fitLinear(
      observeTable(
        {
          columns: [
            { name: "x", unit: "", values: [1, 2, 3, 4] },
            { name: "y", unit: "", values: [5, 5, 5, 5] },
          ],
        },
        { response: "y", factors: ["x"] },
      ),
    );
    expect(fitJson(flat).rSquared).toBeNull();
    expect(JSON.stringify(fitJson(flat))).not.toContain("NaN");
    expect(flat.effects[0].sentence).not.toContain("NaN");
  });
});
