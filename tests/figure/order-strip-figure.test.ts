import { expect, test } from "vitest";
import { orderStripFigure } from "../../src/figure/index.ts";
import { edgeFactor, feedFactor, plan, speedFactor } from "./hand-made-plan.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("one strip a factor with one bar a run, block borders on each", async () => {
  const factors = [feedFactor, speedFactor, edgeFactor];
  const runs = plan(factors, { replicates: 2, blocks: 2 });
  const figure = orderStripFigure({ runs, factors });
  const root = expectSound(figure);
  expect(partOf(root, "settings").length).toBe(48);
  expect(partOf(root, "block-borders").length).toBe(3);
  await expectPicture(figure, "order-strip");
});

test("bars follow the cutting order along and the settings up", () => {
  const runs = plan([feedFactor], { replicates: 3 });
  const bars = partOf(expectSound(orderStripFigure({ runs, factors: [feedFactor] })), "settings");
  const across = bars.map((bar) => Number(bar.attributes["x"]));
  expect(across).toEqual([...across].sort((a, b) => a - b));
  const up = bars.map((bar) => Number(bar.attributes["y"]));
  const high = Math.min(...up);
  expect(up.map((y) => y === high)).toEqual(runs.map((run) => run.settings["feed"] === 0.24));
});

test("a factor cut in rising order is said to move with it", async () => {
  const levels = [0.08, 0.12, 0.16, 0.2, 0.24];
  const factor = { ...feedFactor, levels };
  const runs = levels.map((feed, index) => ({
    run: index + 1,
    standard: index + 1,
    block: 1,
    role: "level" as const,
    settings: { feed },
  }));
  const figure = orderStripFigure({ runs, factors: [factor] });
  expectSound(figure);
  expect(figure.description).toContain("feed moves with order by 1.00. Wear or warm-up could pass for feed.");
  await expectPicture(figure, "order-strip-rising");
});

test("anchor runs are outlined and explained", async () => {
  const factor = { ...feedFactor, levels: [0.08, 0.12, 0.16, 0.2, 0.24] };
  const runs = plan([factor], { replicates: 2, anchor: { feed: 0.16 } });
  const figure = orderStripFigure({ runs, factors: [factor] });
  const root = expectSound(figure);
  expect(partOf(root, "settings").filter((bar) => bar.attributes["fill"] === "#ffffff").length).toBe(3);
  expect(figure.svg).toContain("outlined: anchor run");
  await expectPicture(figure, "order-strip-anchors");
});

test("one run, and 128 runs of 7 factors, are drawn", () => {
  expectSound(orderStripFigure({ runs: plan([edgeFactor], {}).slice(0, 1), factors: [edgeFactor] }));
  const factors = ["a", "b", "c", "d", "e", "f", "g"].map((name) => ({ ...feedFactor, name }));
  const figure = orderStripFigure({ runs: plan(factors, {}), factors });
  expect(partOf(expectSound(figure), "settings").length).toBe(896);
  expect(figure.svg.length).toBeLessThan(300_000);
});

test("with minutes in cut a bar is as long as its run, and a factor is judged against wear", async () => {
  const factors = [feedFactor, edgeFactor];
  const runs = plan(factors, { replicates: 2, blocks: 2 });
  const minutes = runs.map((run) => (run.settings["feed"] === 0.08 ? 3 : 1));
  const edges = runs.map((run) => run.block);
  const figure = orderStripFigure({ runs, factors }, { minutes, edges });
  const root = expectSound(figure);
  // Four runs of 3 minutes and four of 1.
  expect(figure.description).toContain("8 runs, 16.0 minutes in cut. Another edge before run 5.");
  expect(figure.description).toContain("feed moves with minutes in cut by");
  const widths = partOf(root, "settings").map((bar) => Number(bar.attributes["width"]));
  expect(Math.max(...widths) / Math.min(...widths)).toBeCloseTo(3, 1);
  expect(partOf(root, "fresh-edges").length).toBe(2);
  expect(partOf(root, "block-borders").length).toBe(0);
  expect(figure.table.columns.slice(-2)).toEqual(["minutes in cut", "edge"]);
  await expectPicture(figure, "order-strip-minutes");
  expect(() => orderStripFigure({ runs, factors }, { minutes: [1, 2] })).toThrow(
    "2 minutes for 8 runs: expected minutes of each run, in cutting order. Give one a run, or leave them out.",
  );
});
