import { describe, expect, test } from "vitest";
import { choiceMaker } from "../../../src/model/choice/choice-maker.ts";
import { columnsOfModel, modelTree } from "../../../src/model/choice/model-tree.ts";
import {
  bootstrapChoice,
  bootstrapChoiceInWorkers,
  fitJson,
  fitLinear,
  isInterval,
  modelsWithinReach,
  observeTable,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { candidateTerms } from "../../../src/model/screening/candidate-terms.ts";

const cyclic = [1, 1, -1, 1, 1, 1, -1, -1, -1, 1, -1];
const array = [
  ...Array.from({ length: 11 }, (_, run) =>
    Array.from({ length: 5 }, (_column, j) => cyclic[(j - run + 11) % 11]),
  ),
  [-1, -1, -1, -1, -1],
];

/** Twelve runs of five factors set at 1 and 3, of which a and a × b do something; scatter as asked, seeded. */
function runs(seed: number, scatter: number, size = 1) {
  const random = seededRandom(seed);
  const columns = [
    ...["a", "b", "c", "d", "e"].map((name, j) => ({
      name,
      unit: "mm",
      values: array.map((x) => (x[j] > 0 ? 3 : 1)),
    })),
    {
      name: "y",
      unit: "µm",
      values: array.map((x) => 5 + size * (x[0] + x[0] * x[1]) + scatter * random.normal()),
    },
  ];
  return observeTable({ columns }, { response: "y", factors: ["a", "b", "c", "d", "e"] });
}

describe("intervals with the model chosen anew in each draw", () => {
  test("each draw chooses and fits as modelsWithinReach and fitLinear do", () => {
    const observations = runs(5, 1);
    const within = modelsWithinReach(observations);
    const candidates = candidateTerms(observations);
    const base = [new Float64Array(12).fill(1)];
    const search = { base, heredity: within.heredity, mostTerms: within.mostTerms };
    const columns = candidates.map(({ column, parents }) => ({ column, parents }));
    // The target is the coefficient of a, coded; drawn about a mean of 5 with scatter 1 from the seed 3.
    const target = new Float64Array(1 + columns.length);
    target[1] = 1;
    const make = choiceMaker({
      columns,
      search,
      targets: [target],
      centre: new Float64Array(12).fill(5),
      scatter: 1,
      truth: Float64Array.of(0),
      draws: 200,
      seed: 3,
    });
    const { values } = make(0);
    const random = seededRandom(3, { stream: 0 });
    const tree = modelTree(columns, search);
    for (let draw = 0; draw < 40; draw++) {
      const rows = observations.rows.map((row) => {
        const value = 5 + random.normal();
        return { ...row, value, single: [value] };
      });
      const again = { ...observations, rows };
      const best = modelsWithinReach(again).models[0];
      expect(columnsOfModel(tree, values[2 * draw + 1]).map((place) => candidates[place].label)).toEqual(
        best.labels,
      );
      const fit = fitLinear(again, { terms: best.fitTerms, coded: true });
      const a = fit.effects.find(({ factor }) => factor === "a")?.value.estimate ?? 0;
      expect(values[2 * draw]).toBeCloseTo(a / 2 / fit.residualSd!, 9);
    }
  });

  test("what is far above the scatter is chosen each time, and its interval is hardly wider", () => {
    const { chosen, figures, fit } = bootstrapChoice(runs(1, 0.05), { at: [{ a: 3, b: 3 }] });
    expect(chosen.slice(0, 2)).toEqual([
      { label: "a", share: 1 },
      { label: "a × b", share: 1 },
    ]);
    expect(figures.map(({ what }) => what)).toEqual([...Array<string>(5).fill("effect"), "prediction"]);
    const { value, byFit } = figures[5];
    if (!isInterval(value) || byFit === null || !isInterval(byFit)) throw new Error("no interval");
    expect(value.estimate).toBeCloseTo(fit.predict({ a: 3, b: 3 }).estimate, 12);
    // True mean at the corner: 5 + 1 + 1.
    expect(value.low).toBeLessThan(7);
    expect(value.high).toBeGreaterThan(7);
    expect((value.high - value.low) / (byFit.high - byFit.low)).toBeLessThan(1.6);
  });

  test("of factors that do nothing the intervals come out wider, and the fit says how many times", () => {
    const told = bootstrapChoice(runs(4, 1, 0), { seed: 2 });
    expect(told.widening!).toBeGreaterThan(1.3);
    expect(told.fit.chosenFrom).toMatchObject({ widening: told.widening, by: "drawing" });
    expect(fitJson(told.fit).notes!.at(-1)).toMatch(
      /with the choice made anew in drawn trials they come out [\d.]+ times as wide\. Go by those/,
    );
    expect(JSON.stringify(told.sentences)).not.toMatch(/NaN|Infinity|undefined/);
  });

  test("threads change nothing, progress is told, and a stop keeps what was drawn", async () => {
    const observations = runs(2, 0.6);
    const here = bootstrapChoice(observations, { draws: 1500, seed: 9 });
    const told: number[] = [];
    const there = await bootstrapChoiceInWorkers(observations, {
      draws: 1500,
      seed: 9,
      workers: 1,
      onProgress: ({ drawn }) => told.push(drawn),
    });
    expect(JSON.stringify(there)).toBe(JSON.stringify(here));
    expect(told).toEqual([500, 1000, 1500]);
    const stop = new AbortController();
    const stopped = await bootstrapChoiceInWorkers(observations, {
      draws: 1500,
      seed: 9,
      workers: 0,
      signal: stop.signal,
      onProgress: () => stop.abort(),
    });
    expect(stopped).toMatchObject({ stopped: true, draws: 500, asked: 1500 });
    expect(stopped.sentences[0]).toContain("Stopped before all of 1,500 were drawn.");
    stop.abort();
    const none = await bootstrapChoiceInWorkers(observations, { signal: stop.signal });
    expect(none.figures[0].value).toMatchObject({
      reason: "stopped after 0 draws, which are too few for an interval",
    });
    expect(none.widening).toBeNull();
  });

  test("bad requests are refused", () => {
    expect(() => bootstrapChoice(runs(1, 1), { draws: 10 })).toThrow(
      "10 draws; expected a whole number from 200 to 1,000,000",
    );
    const exact = runs(1, 0);
    expect(() => bootstrapChoice(exact)).toThrow(/a chosen model that leaves no scatter/);
  });
});
