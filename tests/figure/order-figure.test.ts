import { expect, test } from "vitest";
import { driftOf } from "../../src/figure/drift.ts";
import { orderFigure } from "../../src/figure/index.ts";
import { fitLinear, fitPowerLaw, type Observations } from "../../src/model/index.ts";
import { feed, handMadeFit, sweepRuns } from "./hand-made-fit.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

/** Sixteen runs of an invented sweep, the response growing by `perRun` a run, in one or two blocks. */
function drifting(
  perRun: number,
  options: { readonly order?: "mixed" | "rising"; readonly blocks?: number; readonly noise?: number } = {},
): Observations {
  const { order = "mixed", blocks = 1, noise = 0.02 } = options;
  const rows = Array.from({ length: 16 }, (_, index) => {
    const at = order === "rising" ? 0.08 + index * 0.01 : 0.08 + ((index * 5) % 4) * 0.05;
    const level = 20 * at ** 1.5 * Math.exp(perRun * index);
    const single = [1, -1].map((side) => level * Math.exp(noise * Math.sin(index * 9.7) + side * 0.01));
    return {
      run: index + 1,
      order: index + 1,
      block: Math.floor((index * blocks) / 16) + 1,
      settings: { feed: at },
      value: (single[0] + single[1]) / 2,
      readings: 2,
      single,
    };
  });
  return { response: { name: "Ra", unit: "µm" }, factors: [feed], rows, repeats: null };
}

test("drift is told apart from the factor: the true ratio lies in the interval", () => {
  const drift = driftOf(fitPowerLaw(drifting(0.02)));
  if ("reason" in drift) throw new Error(drift.reason);
  expect(drift.as).toBe("ratio");
  // Fifteen steps of 2 %.
  expect(drift.total.low).toBeLessThan(Math.exp(0.3));
  expect(drift.total.high).toBeGreaterThan(Math.exp(0.3));
  expect(drift.total.low).toBeGreaterThan(1);
  expect(drift.text).toContain("it stands out from the scatter");
});

test("without noise the drift line is the drift that was put in", () => {
  const drift = driftOf(fitPowerLaw(drifting(0.02, { noise: 0 })));
  if ("reason" in drift) throw new Error(drift.reason);
  expect(drift.total.estimate).toBeCloseTo(Math.exp(0.3), 9); // a fit without scatter, to rounding
});

test("drift in the response's own unit is a difference", () => {
  const drift = driftOf(fitLinear(drifting(0.02)));
  if ("reason" in drift) throw new Error(drift.reason);
  expect(drift.as).toBe("difference");
  expect(drift.short).toMatch(/^first to last \+0\.\d+ µm \(.+ to \+0\.\d+\)$/u);
});

test("a rising feed and order can't be told apart, and the figure says so in place of a line", async () => {
  const fit = fitLinear(drifting(0, { order: "rising" }));
  const figure = orderFigure(fit);
  const root = expectSound(figure);
  expect(partOf(root, "drift")).toEqual([]);
  expect(figure.description).toContain("No drift line: cutting order and feed moved together");
  await expectPicture(figure, "order-confounded");
});

test("every reading and run is drawn in order, blocks are marked, anchors joined, drift has its band", async () => {
  const fit = fitPowerLaw(drifting(0.02, { blocks: 2 }));
  const figure = orderFigure(fit, { anchors: [1, 5, 9, 13] });
  const root = expectSound(figure);
  expect(partOf(root, "readings").length).toBe(32);
  expect(partOf(root, "run-means").length).toBe(16);
  expect(partOf(root, "block-names").length).toBe(2);
  expect(partOf(root, "anchors").length).toBe(1);
  expect(partOf(root, "drift-band").length).toBe(1);
  expect(figure.table.rows.filter((row) => row[5] === "yes").map((row) => row[1])).toEqual([1, 5, 9, 13]);
  const places = partOf(root, "run-means").map((mark) =>
    Number(mark.attributes["cx"] ?? /\(([\d.]+)/u.exec(mark.attributes["transform"])?.[1]),
  );
  expect(new Set(places).size).toBe(16);
  await expectPicture(figure, "order-drift");
});

test("with the factors taken out, what is left shows the drift alone", async () => {
  const fit = fitPowerLaw(drifting(0.02));
  const figure = orderFigure(fit, { readings: "adjusted" });
  expectSound(figure);
  expect(figure.description).toContain("taken out of the readings as drawn");
  await expectPicture(figure, "order-adjusted");
});

test("few runs are drawn without a drift line", () => {
  for (const count of [1, 2, 3]) {
    const fit = handMadeFit({
      factors: [feed],
      runs: sweepRuns.slice(0, count),
      columns: () => [1],
      t: count > 1 ? 4 : null,
    });
    const root = expectSound(orderFigure(fit));
    expect(partOf(root, "readings").length).toBe(3 * count);
  }
});
