import { describe, expect, test } from "vitest";
import { fitJson, fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";
import type { Fit } from "../../src/model/index.ts";

const table = (columns: Readonly<Record<string, readonly (number | string)[]>>, factors: readonly string[]) =>
  observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors },
  );

/** Everything that a page or a machine reads of a fit, in one text. */
const told = (fit: Fit) =>
  JSON.stringify(fitJson(fit, { at: [{}] })) +
  fit.effects.map(({ sentence, value }) => sentence + value.text).join() +
  fit.predict({}).text;

describe("input that is hard to answer", () => {
  const cases: readonly (readonly [string, () => Fit])[] = [
    ["one row", () => fitLinear(table({ x: [1], y: [2] }, ["x"]))],
    ["one row in a power law", () => fitPowerLaw(table({ x: [1], y: [2] }, ["x"]))],
    ["one setting twice", () => fitLinear(table({ x: [1, 1], y: [2, 3] }, ["x"]))],
    ["no factor at all", () => fitLinear(table({ y: [2, 3] }, []))],
    ["all one value", () => fitLinear(table({ x: [1, 2, 3], y: [2, 2, 2] }, ["x"]))],
    ["runs that are met exactly", () => fitPowerLaw(table({ x: [1, 2, 4], y: [3, 6, 12] }, ["x"]))],
    [
      "a row of weight zero",
      () => fitLinear(table({ x: [1, 2, 3, 4], y: [2, 4, 6.1, 9] }, ["x"]), { weights: [1, 1, 1, 0] }),
    ],
    [
      "more terms than runs",
      () => fitLinear(table({ x: [1, 2], z: [3, 5], y: [2, 4] }, ["x", "z"]), { model: "surface" }),
    ],
    [
      "very small numbers",
      () =>
        fitLinear(table({ x: [1e-150, 2e-150, 4e-150, 5e-150], y: [1e-150, 2e-150, 5e-150, 4e-150] }, ["x"])),
    ],
  ];

  test.each(cases)("%s gives an answer without a number that can't be read", (_, fit) => {
    expect(told(fit())).not.toMatch(/NaN|Infinity|∞|—|undefined/);
  });

  test("one value for all is told as such", () => {
    const [effect] = fitLinear(table({ x: [1, 2, 3], y: [2, 2, 2] }, ["x"])).effects;
    expect(effect.sentence).toBe("No effect of x on y was seen: every run read the same.");
  });

  test("is refused by name where a power leaves the range of numbers, and where weights are all zero", () => {
    const huge = table({ x: [1e200, 2e200, 3e200], y: [1, 2, 3] }, ["x"]);
    expect(() => fitLinear(huge, { model: "surface" })).toThrow(
      "run 1: settings whose x² is beyond the largest number; expected settings of a usual size. Give them in a larger unit.",
    );
    expect(() => fitLinear(table({ x: [1, 2], y: [1, 2] }, ["x"]), { weights: [0, 0] })).toThrow(
      "weights that are all 0",
    );
    expect(() => fitLinear(table({ x: [1, 2], y: [1, 2] }, ["x"]), { weights: [1] })).toThrow(
      "1 weights for 2 rows; expected one weight a row.",
    );
    expect(() => fitLinear(table({ x: [1, 2], y: [1, 2] }, ["x"]), { weights: [1, -1] })).toThrow(
      "run 2: weight -1; expected a finite number, zero or more.",
    );
  });
});
