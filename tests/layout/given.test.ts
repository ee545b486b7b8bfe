import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import { edge, feed } from "./factors.ts";

const refusal = (layout: Record<string, unknown>) => {
  try {
    layOut({ factors: [feed, edge], layout: { kind: "given", ...layout } });
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};

describe("given runs", () => {
  test("stay in the order in which they came, unrounded", () => {
    const layout = layOut({
      factors: [{ ...feed, increment: 0.01 }, edge],
      layout: {
        kind: "given",
        runs: [
          { feed: 0.123, edge: "used" },
          { edge: "fresh", feed: 0.3 },
        ],
        inBlock: [1, 2],
      },
    });
    expect(layout.runs.map((run) => run.settings)).toEqual([
      { feed: 0.123, edge: "used" },
      { feed: 0.3, edge: "fresh" },
    ]);
    expect(layout.runs.map((run) => run.block)).toEqual([1, 2]);
    expect(layout.notes).toEqual(["feed lies outside 0.08 to 0.24 mm/rev in run 2."]);
  });

  test("are refused where a setting is missing, strange or of the wrong kind", () => {
    expect(refusal({ runs: [{ feed: 0.1 }] })).toBe(
      "layout.runs, run 1: edge has no setting. Give one for each factor.",
    );
    expect(refusal({ runs: [{ feed: 0.1, edge: "fresh", sped: 3 }] })).toBe(
      'layout.runs, run 1: "sped" is not a factor of this trial. It has feed and edge.',
    );
    expect(refusal({ runs: [{ feed: "0.1", edge: "fresh" }] })).toBe(
      'layout.runs, run 1: expected feed as a number in mm/rev, got "0.1".',
    );
    expect(refusal({ runs: [{ feed: 0.1, edge: "fresh" }], inBlock: [1, 2] })).toBe(
      "layout.inBlock: 2 blocks for 1 run. Give one block a run.",
    );
  });
});
