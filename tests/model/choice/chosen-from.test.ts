import { describe, expect, test } from "vitest";
import {
  bestWithinReach,
  findTransform,
  fitJson,
  fitLinear,
  fitMixed,
  modelsWithinReach,
  observeTable,
  scaleByReadings,
  twoStageScreening,
  validateChoice,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

/** Twelve runs of Plackett and Burman, built from their cyclic row; a and a × b do something. Seeded normal scatter of 0.3. */
const cyclic = [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1];
const coded = [
  ...Array.from({ length: 11 }, (_, run) => cyclic.slice(0, 5).map((_, j) => cyclic[(j - run + 11) % 11])),
  [-1, -1, -1, -1, -1],
];

function castings(told: "coded" | "natural" | "words") {
  const random = seededRandom(3);
  const y = coded.map((x) => 5 + x[0] + x[0] * x[1] + 0.3 * random.normal());
  const setting = (x: number, j: number) =>
    told === "coded" ? x : told === "words" && j < 2 ? (x > 0 ? "hi" : "lo") : x > 0 ? 3 : 1;
  const columns = [
    ...["a", "b", "c", "d", "e"].map((name, j) => ({
      name,
      unit: "",
      values: coded.map((x) => setting(x[j], j)),
    })),
    { name: "day", unit: "", values: coded.map((_, run) => `d${run % 4}`) },
    { name: "y", unit: "", values: y },
  ];
  return observeTable({ columns }, { response: "y", factors: ["a", "b", "c", "d", "e"], random: ["day"] });
}

const tellsOfItself =
  /^This model was chosen as .+ by these same runs; its intervals know nothing of the choice/;

describe("a model that the data chose carries its mark into the fit", () => {
  test("the terms of a model within reach, as they were looked at and as they are fitted", () => {
    const runs = castings("coded");
    const { models } = modelsWithinReach(runs);
    for (const terms of [models[0].terms, models[0].fitTerms]) {
      const fit = fitLinear(runs, { terms });
      expect(fit.chosenFrom).toBe(models[0].terms.chosenFrom);
      expect(fit.notes.at(-1)).toMatch(tellsOfItself);
      expect(fitJson(fit).notes).toEqual(fit.notes);
    }
    expect(fitMixed(runs, { terms: models[0].fitTerms }).notes.join(" ")).toContain(
      "This model was chosen as",
    );
    expect(fitMixed(runs, { terms: models[0].fitTerms }).chosenFrom).toBe(models[0].terms.chosenFrom);
  });

  test("the mark is no entry of the list: it compares and is written as the terms alone", () => {
    const { terms } = modelsWithinReach(castings("coded")).models[0];
    expect(terms).toEqual([...terms]);
    expect(JSON.parse(JSON.stringify(terms))).toEqual([...terms]);
    expect(fitLinear(castings("coded"), { terms: [...terms] }).chosenFrom).toBeUndefined();
  });

  test("what stands out in two stages, and what stands out by size", () => {
    const runs = castings("coded");
    expect(fitLinear(runs, { terms: twoStageScreening(runs).fitTerms }).notes.at(-1)).toContain(
      "two stages of screening of these same runs",
    );
    const square = observeTable(
      {
        columns: [
          { name: "a", unit: "", values: [-1, 1, -1, 1] },
          { name: "b", unit: "", values: [-1, -1, 1, 1] },
          { name: "y", unit: "", values: [1, 9, 1.1, 9.3] },
        ],
      },
      { response: "y", factors: ["a", "b"] },
    );
    const { exact } = fitLinear(square, { model: "interactions" }).unreplicated!;
    expect(fitLinear(square, { terms: exact.terms }).chosenFrom).toEqual({
      how: "what stands out among 3 effects of these same runs",
    });
  });

  test("a scale that the readings chose", () => {
    const random = seededRandom(8);
    const feed = Array.from({ length: 24 }, (_, i) => [0.08, 0.16, 0.24][i % 3]);
    const columns = [
      { name: "feed", unit: "mm/rev", values: feed },
      { name: "Ra", unit: "µm", values: feed.map((f) => Math.exp(20 * f + 0.3 * random.normal())) },
    ];
    const runs = observeTable({ columns }, { response: "Ra", factors: ["feed"] });
    const { fitOptions } = findTransform(runs);
    expect(fitOptions).toEqual({
      log: true,
      chosenFrom: { how: "the scale that these same readings do not object to (the logarithm)" },
    });
    expect(fitLinear(runs, { ...fitOptions! }).notes.at(-1)).toContain("do not object to (the logarithm)");
    const validated = validateChoice(runs, scaleByReadings(), { how: fitOptions!.chosenFrom.how });
    expect(validated.fit.logScale).toBe(true);
    expect(validated.fit.chosenFrom!.widening).toBeGreaterThanOrEqual(1);
  });
});

describe("the model that was chosen is the one that is fitted", () => {
  test.each(["natural", "words"] as const)("in other units than coded ones: %s", (told) => {
    const fit = bestWithinReach()(castings(told), { chosenFrom: { how: "the best" } });
    const same = fitLinear(castings("coded"), { terms: fit.terms });
    expect(fit.terms).toContainEqual({ b: 1 });
    // Scatter 0.3 went in; a × b without b by itself, fitted in other units, left 1.25 (numbers) and 0.78 (words).
    expect(fit.residualSd!).toBeCloseTo(same.residualSd!, 10);
    expect(fit.residualSd!).toBeLessThan(0.4);
  });
});
