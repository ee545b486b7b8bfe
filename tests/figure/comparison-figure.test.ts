import { describe, expect, test } from "vitest";
import {
  comparisonFigure,
  equivalenceFigure,
  locationScatterFigure,
  transformFigure,
} from "../../src/figure/index.ts";
import {
  compareLevels,
  equivalence,
  findTransform,
  observeTable,
  scatterFromReplicates,
} from "../../src/model/index.ts";
import { workedExample } from "../reference/worked-example.ts";
import { tableOf } from "../model/comparison/by-r.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const edges = ["fresh", "used", "worn"].flatMap((edge) => [edge, edge, edge, edge]);
const ra = [0.52, 0.55, 0.5, 0.53, 0.56, 0.6, 0.57, 0.58, 0.82, 0.74, 0.9, 0.79];
const edge = tableOf({ edge: edges }, ra);

describe("pairs of levels", () => {
  test("every pair has its interval, its sentence and its row", async () => {
    const comparison = compareLevels(edge);
    const figure = comparisonFigure(comparison);
    const root = expectSound(figure);
    expect(partOf(root, "intervals")).toHaveLength(3);
    expect(figure.table.rows).toHaveLength(3);
    for (const { sentence } of comparison.pairs) expect(figure.description).toContain(sentence);
    expect(figure.table.rows[0].slice(0, 3)).toEqual(["fresh", "used", expect.closeTo(0.0525, 10)]);
    await expectPicture(figure, "comparison");
  });

  test("ratios stand on a scale of ratios, differences in the reader's unit", () => {
    expectSound(comparisonFigure(compareLevels(edge, { log: true, control: "fresh" })));
    const inch = comparisonFigure(compareLevels(edge), { display: "inch" });
    expectSound(inch);
    // 0.0525 µm is 2.067 µin.
    expect(inch.table.rows[0][2]).toBeCloseTo(0.0525 / 0.0254, 8);
  });

  test("a pair without an interval is said to be untold", () => {
    const figure = comparisonFigure(compareLevels(tableOf({ edge: ["a", "a", "b", "b"] }, [1, 1, 2, 2])));
    expectSound(figure);
    expect(figure.description).toMatch(/no scatter to judge by/u);
  });
});

test("levels alike are shown over the band of the margin", async () => {
  const result = equivalence(edge, { margin: 0.2 });
  expect(result.pairs.map(({ verdict }) => verdict)).toEqual(["within", "beyond", "untold"]);
  const figure = equivalenceFigure(result);
  const root = expectSound(figure);
  expect(partOf(root, "margin")).toHaveLength(1);
  expect(figure.table.rows.map((row) => row[6])).toEqual(["within", "beyond", "can’t be told"]);
  await expectPicture(figure, "equivalence");
  expectSound(equivalenceFigure(equivalence(edge, { margin: 1.2, log: true })));
});

test("location and scatter stand together, setting by setting", async () => {
  const survival = observeTable(workedExample("survival-3x4"), {
    response: "survival",
    factors: ["poison", "treatment"],
    categories: ["poison"],
  });
  const found = scatterFromReplicates(survival);
  const figure = locationScatterFigure(found);
  const root = expectSound(figure);
  expect(partOf(root, "settings")).toHaveLength(12);
  expect(figure.table.rows).toHaveLength(12);
  expect(figure.description).toMatch(/poison from 1 to 3 makes the standard deviation/u);
  await expectPicture(figure, "location-scatter");
  expectSound(locationScatterFigure(scatterFromReplicates(edge)));
});

test("no scatter anywhere is refused in words", () => {
  const flat = scatterFromReplicates(tableOf({ edge: ["a", "a", "b", "b"] }, [1, 1, 2, 2]));
  expect(() => locationScatterFigure(flat)).toThrow(/scatter at one setting at least/u);
});

test("the profile of the power shows its interval and the choices that have a meaning", async () => {
  const textile = observeTable(workedExample("textile-3x3x3"), {
    response: "cycles",
    factors: ["length", "amplitude", "load"],
  });
  const transform = findTransform(textile);
  const figure = transformFigure(transform);
  const root = expectSound(figure);
  expect(partOf(root, "profile")).toHaveLength(1);
  expect(figure.description).toContain(transform.text);
  expect(figure.table.rows.map(([name]) => name)).toEqual(["logarithm", "none", "square root", "reciprocal"]);
  await expectPicture(figure, "transform");
  expectSound(transformFigure(findTransform(edge)));
});
