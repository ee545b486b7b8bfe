import { expect, test } from "vitest";
import { layoutFigure } from "../../src/figure/index.ts";
import { depthFactor, edgeFactor, feedFactor, plan, speedFactor } from "./hand-made-plan.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("every run stands at its settings with its number, replicates side by side", async () => {
  const runs = plan([feedFactor, speedFactor, edgeFactor], { replicates: 2, centre: 3 });
  const figure = layoutFigure({ runs, factors: [feedFactor, speedFactor, edgeFactor] });
  const root = expectSound(figure);
  expect(partOf(root, "runs").length).toBe(19);
  const numbers = partOf(root, "run-numbers").map((each) => Number(each.text));
  expect(numbers.sort((a, b) => a - b)).toEqual(runs.map((run) => run.run));
  const places = partOf(root, "runs").map((each) => `${each.attributes["cx"]},${each.attributes["cy"]}`);
  expect(new Set(places).size).toBe(19);
  await expectPicture(figure, "layout-factorial");
});

test("four factors get panels beside and below, further ones are named as not drawn", async () => {
  const factors = [feedFactor, speedFactor, edgeFactor, depthFactor, { ...edgeFactor, name: "coolant" }];
  const runs = plan(factors, {});
  const figure = layoutFigure({ runs, factors });
  const root = expectSound(figure);
  expect(partOf(root, "runs").length).toBe(32);
  expect(figure.description).toContain("Not drawn: coolant.");
  await expectPicture(figure, "layout-panels");
});

test("one factor is a row of runs", async () => {
  const factor = { ...feedFactor, levels: [0.08, 0.12, 0.16, 0.2, 0.24] };
  const runs = plan([factor], { replicates: 2, anchor: { feed: 0.16 } });
  const figure = layoutFigure({ runs, factors: [factor] });
  expect(partOf(expectSound(figure), "runs").length).toBe(runs.length);
  await expectPicture(figure, "layout-sweep");
});

test("categories only, one level and one run are drawn", () => {
  const runs = plan([edgeFactor], { replicates: 3 });
  expect(partOf(expectSound(layoutFigure({ runs, factors: [edgeFactor] })), "runs").length).toBe(6);
  const one = runs.slice(0, 1);
  expect(partOf(expectSound(layoutFigure({ runs: one, factors: [edgeFactor] })), "runs").length).toBe(1);
  const still = { ...feedFactor, low: 0.1, high: 0.1, levels: [0.1] };
  const level = plan([still, speedFactor], {});
  expect(
    partOf(expectSound(layoutFigure({ runs: level, factors: [still, speedFactor] })), "runs").length,
  ).toBe(2);
});

test("where numbers have no room a mark tells how many runs stand there", () => {
  const runs = plan([feedFactor, speedFactor], { replicates: 300 });
  const figure = layoutFigure({ runs, factors: [feedFactor, speedFactor] });
  const root = expectSound(figure);
  expect(partOf(root, "run-numbers").map((each) => each.text)).toEqual(["×300", "×300", "×300", "×300"]);
  expect(figure.table.rows.length).toBe(1200);
});

test("many near settings get small marks without numbers", () => {
  const factor = { ...feedFactor, levels: Array.from({ length: 60 }, (_, index) => 0.08 + index * 0.002) };
  const runs = plan([factor], {});
  const root = expectSound(layoutFigure({ runs, factors: [factor] }));
  expect(partOf(root, "runs").length).toBe(60);
  expect(partOf(root, "run-numbers")).toEqual([]);
});

test("inch readers get inch settings", () => {
  const runs = plan([feedFactor, speedFactor], {});
  const figure = layoutFigure({ runs, factors: [feedFactor, speedFactor] }, { display: "inch" });
  expectSound(figure);
  expect(figure.description).toContain("in/rev");
});

test("a plan without runs, an unknown factor and too many panels are refused", () => {
  expect(() => layoutFigure({ runs: [], factors: [feedFactor] })).toThrow(
    "a plan without runs: expected at least one run and one factor.",
  );
  const runs = plan([feedFactor, speedFactor], {});
  expect(() => layoutFigure({ runs, factors: [feedFactor, speedFactor] }, { along: "depth" })).toThrow(
    'factor "depth": expected one of feed, speed. Name one of these.',
  );
  const many = { ...feedFactor, levels: [0.08, 0.1, 0.12, 0.16, 0.24] };
  expect(() =>
    layoutFigure({ runs: plan([many, speedFactor], {}), factors: [many, speedFactor] }, { beside: "feed" }),
  ).toThrow("panels for feed, which has 5 settings: expected at most 4 settings for panels.");
});
