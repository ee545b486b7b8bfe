import { describe, expect, test } from "vitest";
import { fitMixed, observeTable } from "../../src/model/index.ts";
import type { MixedFit, MixedOptions } from "../../src/model/index.ts";
import { fittedLike, mixedFixture, mixedReferences } from "./mixed-models.ts";

/** Relative difference, against the largest of the list that a figure belongs to. */
function apart(found: number, wanted: number, size = Math.abs(wanted)): number {
  return Math.abs(found - wanted) / size;
}

describe("mixed models against lme4, lmerTest and pbkrtest (R 4.2)", () => {
  test.each(mixedReferences)("$name: variances, deviance and fixed terms agree", (reference) => {
    const fit = fittedLike(reference);
    // lme4 stops where its own search does, 1e-8 of the variances or so away; the deviance there is flat.
    expect(fit.deviance - reference.deviance).toBeLessThan(1e-11 * Math.abs(reference.deviance));
    expect(fit.deviance - reference.deviance).toBeGreaterThan(-1e-7);
    const size = Math.max(...reference.variances);
    fit.variances.forEach(({ variance }, k) =>
      expect(apart(variance, reference.variances[k], size)).toBeLessThan(2e-7),
    );
    fit.coefficients.forEach(({ estimate, standardError }, k) => {
      const wanted = reference.coefficients[k];
      expect(apart(estimate, wanted.estimate)).toBeLessThan(1e-6);
      expect(apart(standardError!, wanted.satterthwaite.standardError)).toBeLessThan(2e-7);
    });
    for (const { source, levels } of fit.levelEffects) {
      const most = Math.max(...Object.values(reference.levels[source]).map(Math.abs), 1e-6);
      for (const { level, effect } of levels)
        expect(apart(effect, reference.levels[source][level], most)).toBeLessThan(1e-4);
    }
  });

  test.each(mixedReferences.filter(({ singular }) => !singular))(
    "$name: Satterthwaite's degrees of freedom and F agree",
    (reference) => {
      const fit = fittedLike(reference);
      // lmerTest differentiates numerically: five digits of it are sure.
      fit.coefficients.forEach(({ df }, k) =>
        expect(apart(df, reference.coefficients[k].satterthwaite.df)).toBeLessThan(2e-5),
      );
      const highest = reference.satterthwaite.length - 1;
      reference.satterthwaite.forEach(({ f, df, denominatorDf }, k) => {
        // A category that a quantity's slope hangs on is tested in the middle here, at zero there.
        if (reference.fixed.includes(":") && k < highest) return;
        const found = fit.analysisLast[k];
        expect(found.df).toBe(df);
        expect(apart(found.f!, f)).toBeLessThan(1e-6);
        // The directions that the joint method splits into hang on how contrasts are scaled.
        expect(apart(found.denominatorDf!, denominatorDf)).toBeLessThan(5e-4);
      });
    },
  );

  test.each(mixedReferences)(
    "$name: Kenward and Roger's covariance, degrees of freedom and F agree",
    (reference) => {
      const fit = fittedLike(reference, { smallSample: "kenward-roger" });
      fit.coefficients.forEach(({ standardError, df }, k) => {
        const wanted = reference.coefficients[k].kenwardRoger;
        expect(apart(standardError!, wanted.standardError)).toBeLessThan(2e-7);
        expect(apart(df, wanted.df)).toBeLessThan(1e-6);
      });
      const highest = reference.kenwardRoger.length - 1;
      reference.kenwardRoger.forEach(({ f, denominatorDf }, k) => {
        if (reference.fixed.includes(":") && k < highest) return;
        expect(apart(fit.analysisLast[k].f!, f)).toBeLessThan(1e-6);
        expect(apart(fit.analysisLast[k].denominatorDf!, denominatorDf)).toBeLessThan(1e-6);
      });
    },
  );
});

function fitted(
  fixture: string,
  given: { response: string; factors: readonly string[]; random: readonly (string | readonly string[])[] },
  options: MixedOptions = {},
): MixedFit {
  const columns = Object.entries(mixedFixture(fixture)).map(([name, values]) => ({ name, unit: "", values }));
  const categories = given.factors.filter((name) => name !== "nitrogen");
  return fitMixed(observeTable({ columns }, { ...given, categories }), options);
}

const paper = {
  response: "strength",
  factors: ["method", "temperature"],
  random: ["replicate", ["replicate", "method"]],
};

describe("published split plots", () => {
  test.each(["satterthwaite", "kenward-roger"] as const)(
    "strength of paper, %s: F of the strata",
    (smallSample) => {
      const fit = fitted("paper-split-plot", paper, { model: "interactions", smallSample });
      const [method, temperature, both, residual] = fit.analysis;
      // Montgomery, Design and Analysis of Experiments, chapter 14: F to two decimals, sums of squares to two.
      expect(method).toMatchObject({ source: "method", df: 2 });
      expect(method.sumOfSquares).toBeCloseTo(128.39, 2);
      expect(method.f).toBeCloseTo(7.08, 2);
      expect(method.denominatorDf).toBeCloseTo(4, 9);
      expect(temperature.sumOfSquares).toBeCloseTo(434.08, 2);
      expect(temperature.f).toBeCloseTo(36.43, 2);
      expect(temperature.denominatorDf).toBeCloseTo(18, 9);
      expect(both.sumOfSquares).toBeCloseTo(75.17, 2);
      expect(both.f).toBeCloseTo(3.15, 2);
      expect(residual).toMatchObject({ source: "residual", df: 18 });
      expect(residual.sumOfSquares).toBeCloseTo(71.5, 2);
      // Mean squares: 77.56/2, 36.28/4, 71.50/18; so plots (9.0694 − 3.9722)/4, replicates (38.7778 − 9.0694)/12.
      expect(fit.variances[0].variance).toBeCloseTo((77.5555555555555 / 2 - 36.2777777777777 / 4) / 12, 12);
      expect(fit.variances[1].variance).toBeCloseTo((36.2777777777777 / 4 - 71.5 / 18) / 4, 12);
      expect(fit.variances[2].variance).toBeCloseTo(71.5 / 18, 12);
    },
  );

  test("oats, nitrogen as a line: standard deviations and coefficients", () => {
    const fit = fitted("oats-split-plot", {
      response: "yield",
      factors: ["nitrogen"],
      random: ["block", ["block", "variety"]],
    });
    // Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, chapter 1: 14.506, 11.005, 12.867; 81.872 (6.945), 73.667 (6.782).
    expect(fit.variances.map(({ standardDeviation }) => standardDeviation.toFixed(3))).toEqual([
      "14.506",
      "11.005",
      "12.867",
    ]);
    expect(fit.coefficients.map(({ estimate }) => estimate.toFixed(3))).toEqual(["81.872", "73.667"]);
    expect(fit.coefficients[0].standardError).toBeCloseTo(6.945, 3);
    // Their 6.782 is 6.7815 printed; the second road gives 6.78148.
    expect(fit.coefficients[1].standardError).toBeCloseTo(6.782, 2);
  });

  test("oats, all terms: the analysis by strata", () => {
    const columns = Object.entries(mixedFixture("oats-split-plot")).map(([name, values]) => ({
      name,
      unit: "",
      values,
    }));
    const factors = ["variety", "nitrogen"];
    const observations = observeTable(
      { columns },
      { response: "yield", factors, categories: factors, random: ["block", ["block", "variety"]] },
    );
    const all = fitMixed(observations, { model: "interactions" });
    expect(all.random).toEqual(["block", "block + variety"]);
    // Yates 1935: blocks 15875 (5), variety 1786 (2), whole-plot error 6013 (10), nitrogen 20020.5 (3), both 321.75 (6), error 7968.75 (45).
    const [variety, nitrogen, both, residual] = all.analysisLast;
    expect(variety.sumOfSquares).toBeCloseTo(1786.4, 1);
    expect(variety.f).toBeCloseTo(1.485, 3);
    expect(variety.denominatorDf).toBeCloseTo(10, 9);
    expect(nitrogen.f).toBeCloseTo(37.69, 2);
    expect(nitrogen.sumOfSquares).toBeCloseTo(20020.5, 8);
    expect(both.f).toBeCloseTo(0.303, 3);
    expect(both.denominatorDf).toBeCloseTo(45, 9);
    expect(residual.df).toBe(45);
    expect(residual.sumOfSquares).toBeCloseTo(7968.75, 8);
    expect(all.variances[0].variance).toBeCloseTo(214.477083333333, 9);
    expect(all.variances[1].variance).toBeCloseTo(106.061805555556, 9);
    expect(all.variances[2].variance).toBeCloseTo(177.083333333333, 9);
  });

  test("gauge study of ten parts and three appraisers: the interaction is zero and its scatter pooled", () => {
    const fit = fitted("gauge-study-10x3x3", {
      response: "value",
      factors: [],
      random: ["part", "appraiser", ["part", "appraiser"]],
    });
    // Measurement Systems Analysis, 4th edition, analysis of variance with the interaction pooled: 0.199933, 0.226838 and 1.042327.
    const sd = new Map(fit.variances.map(({ source, standardDeviation }) => [source, standardDeviation]));
    expect(sd.get("part + appraiser")).toBe(0);
    expect(sd.get("residual")).toBeCloseTo(0.199933, 6);
    expect(sd.get("appraiser")).toBeCloseTo(0.226838, 6);
    expect(sd.get("part")).toBeCloseTo(1.042327, 6);
  });
});
