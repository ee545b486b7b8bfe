import { describe, expect, test } from "vitest";
import {
  normalQuantileFigure,
  orderFigure,
  residualFigure,
  varianceShareFigure,
} from "../../src/figure/index.ts";
import { fitMixed, isInterval } from "../../src/model/index.ts";
import { splitPlotTrial } from "../model/mixed/split-plot-trial.ts";
import { partOf } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

const trial = splitPlotTrial({ seed: 4, plot: 0.1, run: 0.05, reading: 0.03 });

describe("variance shares", () => {
  const fit = fitMixed(trial, { model: "power-law", random: ["whole plot", "run"] });

  test("every source has its bar, its interval, its sentence and its row", async () => {
    const figure = varianceShareFigure(fit);
    const root = expectSound(figure);
    expect(partOf(root, "shares")).toHaveLength(3);
    expect(partOf(root, "intervals")).toHaveLength(3);
    expect(figure.table.rows.map(([source]) => source)).toEqual(["set-up", "run", "residual"]);
    fit.variances.forEach(({ share, shareInterval, sentence }, k) => {
      if (!isInterval(shareInterval)) throw new Error(shareInterval.reason);
      expect(figure.table.rows[k].slice(2, 5)).toEqual([
        100 * share,
        100 * shareInterval.low,
        100 * shareInterval.high,
      ]);
      expect(figure.description).toContain(sentence);
    });
    // Shares are of one whole.
    expect(figure.table.rows.reduce((sum, row) => sum + Number(row[2]), 0)).toBeCloseTo(100, 10);
    await expectPicture(figure, "variance-shares");
  });

  test("a source that adds nothing is drawn at zero with what could have been missed", () => {
    const none = fitMixed(splitPlotTrial({ seed: 3, plot: 0, run: 0.05, reading: 0.03 }), {
      model: "power-law",
    });
    expect(none.variances[0].variance).toBe(0);
    const figure = varianceShareFigure(none);
    expectSound(figure);
    expect(figure.table.rows[0].slice(0, 4)).toEqual(["set-up", 8, 0, 0]);
    expect(figure.description).toMatch(/could have been missed/u);
  });

  test("differences stand in the reader's unit", () => {
    const linear = fitMixed(trial);
    const inch = varianceShareFigure(linear, { display: "inch" });
    expectSound(inch);
    // 1 µin is 0.0254 µm.
    expect(inch.table.rows[0][5]).toBeCloseTo(linear.variances[0].standardDeviation / 0.0254, 8);
  });
});

test("diagnostic figures take a mixed fit, every run with its own leverage", () => {
  const other = splitPlotTrial({ seed: 5, plot: 0.1, run: 0.05, reading: 0.03 });
  const fit = fitMixed(other, { model: "power-law" });
  for (const figure of [
    residualFigure(fit, { trial: other }),
    normalQuantileFigure(fit),
    orderFigure(fit, { trial: other }),
  ]) {
    expectSound(figure);
    expect(figure.table.rows).toHaveLength(32);
  }
  for (const { leverage } of fit.rows) expect(leverage).toBeGreaterThan(0);
});
