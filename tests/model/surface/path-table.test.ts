import { expect, test } from "vitest";
import { observeTable, fitLinear, pathTable, ridgePath, steepestPath } from "../../../src/model/index.ts";
import { fitOf, workedExample } from "../../reference/worked-example.ts";

const example = workedExample("yield-central-composite");
const fit = fitOf(example, example.analyses[0]);

test("each step has its settings, what is fitted there, and the interval of its own prediction", () => {
  const path = ridgePath(fit, { aim: "larger", radii: [0, 0.5] });
  const { columns, rows } = pathTable(fit, path);
  expect(columns).toEqual([
    "from the middle",
    "time",
    "temperature",
    "yield [%]",
    "mean, 95 %",
    "next run, 95 %",
  ]);
  expect(rows.map(([radius]) => radius)).toEqual(["0", "0.5"]);
  const { mean, estimate } = path[1].prediction;
  const [low, high] = String(rows[1][4]).split(" to ").map(Number);
  // Rounded by no more than a seventh of the half-width.
  const within = (mean!.high - mean!.low) / 14;
  expect(Math.abs(low - mean!.low)).toBeLessThan(within);
  expect(Math.abs(high - mean!.high)).toBeLessThan(within);
  expect(Math.abs(Number(rows[1][3]) - estimate)).toBeLessThan(within);
});

test("steps beyond what was cut name the factors, and a fit without scatter has no interval columns", () => {
  const line = fitLinear(
    observeTable(
      {
        columns: [
          { name: "feed", unit: "mm/rev", values: [0.1, 0.2] },
          { name: "Ra", unit: "µm", values: [0.5, 1] },
        ],
      },
      { response: "Ra", factors: ["feed"] },
    ),
  );
  const { columns, rows } = pathTable(line, steepestPath(line, { aim: "smaller", steps: 5 }).steps);
  expect(columns).toEqual(["feed [mm/rev]", "Ra [µm]", "outside what was cut"]);
  expect(rows[0][2]).toBeNull();
  expect(rows.at(-1)![2]).toBe("feed");
});
