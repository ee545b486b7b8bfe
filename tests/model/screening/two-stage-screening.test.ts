import { describe, expect, test } from "vitest";
import { layOut } from "../../../src/layout/index.ts";
import { observeTable, twoStageScreening } from "../../../src/model/index.ts";
import { seededRandom, type SeededRandom } from "../../../src/numerics/index.ts";

const names = ["a", "b", "c", "d", "e", "f"];

function screeningRuns(extra: number) {
  return layOut({
    factors: names.map((name) => ({
      kind: "quantity" as const,
      name,
      unit: "mm" as const,
      low: -1,
      high: 1,
      scale: "linear" as const,
      change: "easy" as const,
    })),
    layout: { kind: "definitive-screening", extra },
  }).runs;
}

function observed(
  runs: ReturnType<typeof screeningRuns>,
  truth: (at: Readonly<Record<string, number>>) => number,
) {
  const at = runs.map(({ settings }) => settings as Readonly<Record<string, number>>);
  return observeTable(
    {
      columns: [
        ...names.map((name) => ({ name, unit: "", values: at.map((settings) => settings[name]) })),
        { name: "y", unit: "", values: at.map(truth) },
      ],
    },
    { response: "y", factors: names },
  );
}

const noisy =
  (random: SeededRandom, truth: (at: Readonly<Record<string, number>>) => number, sd: number) =>
  (at: Readonly<Record<string, number>>) =>
    truth(at) + sd * random.normal();

describe("six factors with extra runs", () => {
  const runs = screeningRuns(2);

  test("finds two factors, their product and a square that are far above the scatter", () => {
    const truth = (at: Readonly<Record<string, number>>) =>
      10 + 3 * at["a"] - 2 * at["d"] + 2.5 * at["a"] * at["d"] + 2 * at["a"] ** 2;
    const found = twoStageScreening(observed(runs, noisy(seededRandom(11), truth, 0.2)));
    expect(found.possible).toBe(true);
    expect(found.mains.filter(({ active }) => active).map(({ label }) => label)).toEqual(["a", "d"]);
    expect(found.mains[0].estimate).toBeCloseTo(3, 0);
    expect([...found.secondLabels].sort()).toEqual(["a × d", "a²"]);
    expect(found.settled).toBe(true);
    expect(found.active).toEqual([{ a: 1 }, { d: 1 }, { a: 1, d: 1 }, { a: 2 }]);
  });

  test("main effects are untouched by squares and products, whatever these are", () => {
    const random = seededRandom(12);
    const base = observed(
      runs,
      noisy(seededRandom(13), (at) => 3 * at["a"], 0.3),
    );
    const second = Array.from({ length: 21 }, () => 5 * random.normal());
    const disturbed = {
      ...base,
      rows: base.rows.map((row) => {
        const x = names.map((name) => Number(row.settings[name]));
        let k = 0;
        let added = 0;
        for (let i = 0; i < 6; i++) for (let j = i; j < 6; j++) added += second[k++] * x[i] * x[j];
        return { ...row, value: row.value + added, single: [row.value + added] };
      }),
    };
    const plain = twoStageScreening(base).mains;
    twoStageScreening(disturbed).mains.forEach(({ estimate, standardError }, k) => {
      expect(estimate).toBeCloseTo(plain[k].estimate, 10);
      expect(standardError).toBeCloseTo(plain[k].standardError, 10);
    });
  });

  test("an inert factor is called active about 5 times in 100", () => {
    const random = seededRandom(14);
    let called = 0;
    const trials = 400;
    for (let trial = 0; trial < trials; trial++)
      called += twoStageScreening(
        observed(
          runs,
          noisy(random, (at) => 3 * at["a"], 1),
        ),
      ).mains.filter(({ label, active }) => label !== "a" && active).length;
    // Five inert factors share one scatter, so the standard error is counted as if by trial: 0.011.
    expect(Math.abs(called / (5 * trials) - 0.05)).toBeLessThan(0.033);
  });

  test("other choices that leave no more than chance allows are named", () => {
    const truth = (at: Readonly<Record<string, number>>) =>
      3 * at["a"] + 3 * at["b"] + 0.6 * at["a"] * at["b"];
    const found = twoStageScreening(observed(runs, noisy(seededRandom(16), truth, 0.5)));
    for (const set of found.alternatives) expect(set.length).toBe(found.second.length);
    if (found.alternatives.length > 0)
      expect(found.sentences.join(" ")).toContain("the runs can't tell them apart");
  });
});

test("is not possible without a run left for the scatter, and says what to lay out", () => {
  const found = twoStageScreening(
    observed(
      screeningRuns(0),
      noisy(seededRandom(1), (at) => at["a"], 1),
    ),
  );
  expect(found.possible).toBe(false);
  expect(found.sentences).toEqual([
    "Screening in two stages is not possible: there are as many factors as mirror pairs and no repeated centre run, so no run is left to show the scatter; lay out two or more extra runs.",
  ]);
});

test("is not possible where runs don't mirror one another", () => {
  const runs = screeningRuns(2).slice(1);
  expect(twoStageScreening(observed(runs, (at) => at["a"])).sentences).toEqual([
    "Screening in two stages is not possible: the runs don't mirror one another, so main effects aren't clear of squares and products.",
  ]);
});
