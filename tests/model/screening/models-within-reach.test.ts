import { describe, expect, test } from "vitest";
import { fitLinear, modelsWithinReach, observeTable, type Heredity } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { observationsOf, workedExample } from "../../reference/worked-example.ts";
import { layOut } from "../../../src/layout/index.ts";

const example = workedExample("fatigue-plackett-burman-12");
const letters = ["A", "B", "C", "D", "E", "F", "G"];
const castings = observationsOf(example, { ...example.analyses[0], factors: letters });

describe("the twelve castings of Hunter, Hodi and Eager 1982", () => {
  test("F with F × G is the best model under weak heredity, as Hamada and Wu 1992 found, and in all within reach", () => {
    const { models, support, sentences } = modelsWithinReach(castings);
    expect(models[0].labels).toEqual(["F", "F × G"]);
    expect(models[0].rSquared).toBeCloseTo(0.8925, 4); // R² 0.89 in Hamada and Wu, J. Quality Technology 24
    expect(support.slice(0, 2).map(({ label, share }) => [label, share])).toEqual([
      ["F", expect.closeTo(1, 12)],
      ["F × G", expect.closeTo(1, 12)],
    ]);
    expect(sentences.slice(0, 2)).toEqual([
      "4 models do about as well as the best, which is F and F × G; the runs can't tell them apart.",
      "F and F × G are in all of them.",
    ]);
  });

  test("strong heredity asks for G by itself as well", () => {
    expect(modelsWithinReach(castings, { heredity: "strong" }).models.map(({ labels }) => labels)).toEqual([
      ["F", "G", "F × G"],
    ]);
  });
});

test.each(["strong", "weak", "none"] as const)(
  "every model within reach, and no other, is found: %s heredity against fits of every subset",
  (heredity) => {
    const found = modelsWithinReach(castingsOfFour, { heredity, mostTerms: 3, reach: 6 });
    const slow = everySubset(heredity, 3);
    const best = Math.min(...slow.map(({ score }) => score));
    const within = slow.filter(({ score }) => score - best <= 6);
    expect(found.models.map(({ labels }) => labels.join(" + ")).sort()).toEqual(
      within.map(({ labels }) => labels.join(" + ")).sort(),
    );
    expect(found.looked).toBe(slow.length);
    for (const model of found.models) {
      const twin = within.find(({ labels }) => labels.join() === model.labels.join())!;
      expect(model.behind).toBeCloseTo(twin.score - best, 9);
      if (twin.residualSd !== null) expect(model.residualSd).toBeCloseTo(twin.residualSd, 10);
    }
  },
);

const four = ["A", "D", "F", "G"];
const castingsOfFour = observationsOf(example, { ...example.analyses[0], factors: four });

/** Each subset fitted by itself, by the project's least squares: plain and slow. */
function everySubset(heredity: Heredity, most: number) {
  const products = four.flatMap((a, i) => four.slice(i + 1).map((b) => [a, b]));
  const terms = [
    ...four.map((name) => ({ label: name, term: { [name]: 1 }, parents: [] as string[] })),
    ...products.map(([a, b]) => ({ label: `${a} × ${b}`, term: { [a]: 1, [b]: 1 }, parents: [a, b] })),
  ];
  const subsets = Array.from({ length: 2 ** terms.length }, (_, bits) =>
    terms.filter((_term, place) => (bits >> place) % 2 === 1),
  ).filter((subset) => {
    if (subset.length > most) return false;
    const has = (name: string) => subset.some(({ label }) => label === name);
    return subset.every(
      ({ parents }) =>
        parents.length === 0 ||
        heredity === "none" ||
        (heredity === "strong" ? parents.every(has) : parents.some(has)),
    );
  });
  const rows = castingsOfFour.rows.length;
  return subsets.map((subset) => {
    const fit = fitLinear(castingsOfFour, { terms: subset.map(({ term }) => term) });
    const left = fit.rows.reduce((sum, { residual }) => sum + residual ** 2, 0);
    const k = subset.length + 2;
    return {
      labels: subset.map(({ label }) => label),
      score: rows * Math.log(left / rows) + (2 * k * rows) / (rows - k - 1),
      residualSd: fit.residualSd,
    };
  });
}

test("blocks keep their own level in every model", () => {
  const random = seededRandom(5);
  const runs = layOut({
    factors: letters.slice(0, 4).map((name) => ({
      kind: "quantity" as const,
      name,
      unit: "mm" as const,
      low: 1,
      high: 2,
      scale: "linear" as const,
      change: "easy" as const,
    })),
    layout: { kind: "factorial", blocks: 2 },
  }).runs;
  const values = runs.map(
    ({ settings, block }) => 5 * block + 2 * Number(settings["B"]) + 0.05 * random.normal(),
  );
  const observations = observeTable(
    {
      columns: [
        ...["A", "B", "C", "D"].map((name) => ({
          name,
          unit: "",
          values: runs.map(({ settings }) => Number(settings[name])),
        })),
        { name: "day", unit: "", values: runs.map(({ block }) => block) },
        { name: "y", unit: "", values },
      ],
    },
    { response: "y", factors: ["A", "B", "C", "D"], block: "day" },
  );
  const { models } = modelsWithinReach(observations);
  expect(models[0].labels).toContain("B");
  expect(models[0].residualSd).toBeLessThan(0.1);
});

test("refused with the mend: a category of three levels, a factor that never moved, one value, too few runs", () => {
  const table = (
    columns: Readonly<Record<string, readonly (string | number)[]>>,
    factors: readonly string[],
  ) =>
    observeTable(
      {
        columns: Object.entries(columns).map(([name, values]) => ({
          name,
          unit: "",
          values: values as readonly string[] | readonly number[],
        })),
      },
      { response: "y", factors },
    );
  const y = [1, 2, 3, 4, 5, 7];
  expect(() => modelsWithinReach(table({ edge: ["a", "b", "c", "a", "b", "c"], y }, ["edge"]))).toThrow(
    "edge with 3 levels in a screening; expected quantities, and categories of two levels. Fit the factor with fitLinear, or screen the runs of two of its levels.",
  );
  expect(() => modelsWithinReach(table({ a: [1, 2, 1, 2, 1, 2], y: [3, 3, 3, 3, 3, 3] }, ["a"]))).toThrow(
    "readings that are all one value; expected a response that moved. There is nothing to screen.",
  );
  expect(() => modelsWithinReach(table({ a: [1, 2, 1, 2], y: [3, 1, 2, 3] }, ["a"]))).toThrow(
    "4 runs for a screening; expected five or more. Fit main effects instead.",
  );
});
