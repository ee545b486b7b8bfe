import { describe, expect, test } from "vitest";
import { layOut, LayoutError } from "../../src/layout/index.ts";
import { edge, feed, speed } from "./factors.ts";

const levelsCut = (layout: { kind: string } & Record<string, unknown>, factor = feed) => {
  const { runs } = layOut({ factors: [factor, speed], layout: { order: "as-listed", ...layout } });
  return runs.map((run) => run.settings[factor.name]);
};

describe("a sweep", () => {
  test("moves the first quantity over its range and holds the others at their middle", () => {
    const layout = layOut({ factors: [edge, feed, speed], layout: { kind: "sweep", order: "as-listed" } });
    expect(layout.runs.map((run) => run.settings)).toEqual(
      [0.08, 0.12, 0.16, 0.2, 0.24].map((value) => ({ edge: "fresh", feed: value, speed: 1000 })),
    );
    expect(layout.notes).toEqual(["Only feed moves; held: edge fresh and speed at 1000 rev/min."]);
  });

  test("spaces points evenly or in ratio, or takes the levels given", () => {
    expect(levelsCut({ kind: "sweep", points: 3 })).toEqual([0.08, 0.16, 0.24]);
    expect(
      levelsCut({ kind: "sweep", points: 3, spacing: "ratio" }, { ...feed, low: 0.05, high: 0.2 }),
    ).toEqual([0.05, 0.1, 0.2]);
    expect(levelsCut({ kind: "sweep", points: 3 }, { ...feed, low: 0.05, high: 0.2, scale: "log" })).toEqual([
      0.05, 0.1, 0.2,
    ]);
    expect(levelsCut({ kind: "sweep", levels: [0.1, 0.2] })).toEqual([0.1, 0.2]);
    expect(levelsCut({ kind: "sweep" }, { ...feed, levels: [0.1, 0.24] })).toEqual([0.1, 0.24]);
  });

  test("cuts an anchor first, after every so many runs, and last", () => {
    const layout = layOut({
      factors: [feed],
      layout: { kind: "sweep", points: 6, anchorEvery: 3, anchor: 0.1, order: "random", seed: 4 },
    });
    expect(layout.runs.map((run) => (run.role === "anchor" ? "A" : "r")).join("")).toBe("ArrrArrrA");
    expect(layout.runs.filter((run) => run.role === "anchor").every((run) => run.settings.feed === 0.1)).toBe(
      true,
    );
    expect(layout.orderRules).toEqual([
      "Random order, drawn from seed 4.",
      "An anchor run (feed 0.1 mm/rev) is cut first, after every 3 runs, and last, so that drift can be read off it.",
    ]);
  });

  test("rounds settings to what the machine can set, and says so", () => {
    const layout = layOut({
      factors: [{ ...feed, low: 0.1, high: 0.2, increment: 0.01 }],
      layout: { kind: "sweep", points: 4, order: "as-listed" },
    });
    expect(layout.runs.map((run) => run.settings.feed)).toEqual([0.1, 0.13, 0.17, 0.2]);
    expect(layout.notes).toEqual([
      "feed: 0.133333 becomes 0.13 and 0.166667 becomes 0.17 mm/rev, because the machine sets steps of 0.01 mm/rev.",
    ]);
  });

  test("refuses levels that the machine can't tell apart", () => {
    expect(() =>
      layOut({
        factors: [{ ...feed, low: 0.1, high: 0.12, increment: 0.01 }],
        layout: { kind: "sweep", points: 5 },
      }),
    ).toThrow(
      new LayoutError(
        "feed: settings 0.105 and 0.11 mm/rev both become 0.11 mm/rev with an increment of 0.01 mm/rev. Take fewer levels, a wider range or a finer increment.",
      ),
    );
  });

  test("refuses a factor, a level or a held setting that the trial does not have", () => {
    const refusal = (layout: { kind: string } & Record<string, unknown>) => {
      try {
        layOut({ factors: [feed, edge], layout });
      } catch (error) {
        return (error as Error).message;
      }
      return "nothing";
    };
    expect(refusal({ kind: "sweep", factor: "fed" })).toBe(
      'layout.factor: "fed" is not a factor of this trial. It has feed and edge.',
    );
    expect(refusal({ kind: "sweep", levels: [0.1, 2.4] })).toBe(
      "layout.levels: feed at 2.4 mm/rev lies outside its range of 0.08 to 0.24 mm/rev. Change the setting or the range.",
    );
    expect(refusal({ kind: "sweep", hold: { edge: "new" } })).toBe(
      'layout.hold: "new" is not a level of edge. Its levels are "fresh" and "used".',
    );
    expect(refusal({ kind: "sweep", anchor: 0.1 })).toBe(
      'layout.anchor: an anchor at 0.1 needs anchorEvery, the number of runs between two anchors. Add "anchorEvery": 4.',
    );
    expect(refusal({ kind: "sweep", factor: "edge", centrePoints: 1 })).toBe(
      'layout "sweep": centrePoints is 1, but edge is a category and has no middle. Set centrePoints to 0.',
    );
  });
});
