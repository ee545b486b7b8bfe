import { expect, test } from "vitest";
import { movesWithFigure } from "../../src/figure/index.ts";
import { layOut, termCorrelations, type TermCorrelations } from "../../src/layout/index.ts";
import { times } from "../../src/model/index.ts";
import { depthFactor, edgeFactor, feedFactor, speedFactor } from "./hand-made-plan.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const factors = [feedFactor, speedFactor, depthFactor, edgeFactor];
const names = factors.map(({ name }) => name);
const pairs = names.flatMap((one, index) => names.slice(index + 1).map((other) => times(one, other)));

test("a pair of factors that hides behind a single one is said and drawn", async () => {
  const { runs } = layOut({ factors, layout: { kind: "fraction", generators: ["edge = feed × speed"] } });
  const figure = movesWithFigure(termCorrelations(runs, factors, { model: "main", omitted: pairs }));
  const root = expectSound(figure);
  expect(figure.description).toBe(
    "What moves with what: 4 terms of the model, 6 left out. feed × speed can't be told from edge used against fresh; feed × edge used against fresh can't be told from speed; speed × edge used against fresh can't be told from feed.",
  );
  expect(partOf(root, "filled")).toHaveLength(3);
  // 6 cells of the stair and 4 of each left-out pair that moves with a factor.
  expect(partOf(root, "cells")).toHaveLength(6 + 3 * 4);
  expect(figure.table.columns).toEqual([
    "term",
    "in the model",
    "feed",
    "speed",
    "depth",
    "edge used against fresh",
  ]);
  expect(figure.table.rows[4]).toEqual(["feed × speed", "no", 0, 0, 0, 1]);
  await expectPicture(figure, "moves-with-fraction");
});

test("terms at right angles leave the stair empty", () => {
  const { runs } = layOut({ factors, layout: { kind: "factorial" } });
  const figure = movesWithFigure(termCorrelations(runs, factors, { model: "main", omitted: pairs }));
  expect(partOf(expectSound(figure), "filled")).toHaveLength(0);
  expect(figure.description).toContain("No term moves noticeably with another.");
});

test("a surface of six factors fits on the sheet, falling pairs drawn hollow", async () => {
  const six = ["A", "B", "C", "D", "E", "F"].map((name) => ({ ...feedFactor, name, unit: "mm" as const }));
  const { runs } = layOut({ factors: six, layout: { kind: "definitive-screening" } });
  const figure = movesWithFigure(termCorrelations(runs, six, { model: "surface" }));
  expectSound(figure);
  expect(figure.table.rows).toHaveLength(27);
  await expectPicture(figure, "moves-with-surface");
});

test("left-out terms beyond the rows that fit are counted, not dropped in silence", () => {
  const twelve = Array.from({ length: 11 }, (_, index) => ({ ...feedFactor, name: `f${index + 1}` }));
  const { runs } = layOut({ factors: twelve, layout: { kind: "plackett-burman", runs: 12 } });
  const left = twelve.flatMap(({ name }, index) =>
    twelve.slice(index + 1).map((other) => times(name, other.name)),
  );
  const figure = movesWithFigure(termCorrelations(runs, twelve, { model: "main", omitted: left }));
  expectSound(figure);
  expect(figure.svg).toContain("26 weaker ones not drawn");
  expect(figure.table.rows).toHaveLength(11 + 55);
});

test("a model without terms, and one too large for the sheet, are refused in words", () => {
  const none: TermCorrelations = { terms: [], correlations: [] };
  expect(() => movesWithFigure(none)).toThrow(
    "a model of 0 terms: expected a model of 1 to 28 terms. Ask for a model with a factor in it.",
  );
  const many: TermCorrelations = {
    terms: Array.from({ length: 29 }, (_, index) => ({
      label: `t${index}`,
      order: 1,
      place: "asked" as const,
    })),
    correlations: Array.from({ length: 29 }, () => new Array<number>(29).fill(0)),
  };
  expect(() => movesWithFigure(many)).toThrow(
    "a model of 29 terms and 0 left out: expected a model of 1 to 28 terms.",
  );
});
