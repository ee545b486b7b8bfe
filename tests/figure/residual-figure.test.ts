import { expect, test } from "vitest";
import { residualFigure } from "../../src/figure/index.ts";
import { factorialFit, sweepFit, sweepRuns } from "./hand-made-fit.ts";
import { partOf, textBoxes } from "./read-svg.ts";
import { expectPicture, expectSound } from "./sound-figure.ts";

test("one mark a run, two broken lines at two standard deviations, one for no residual", async () => {
  const figure = residualFigure(sweepFit());
  const root = expectSound(figure);
  expect(partOf(root, "residuals").length).toBe(10);
  expect(partOf(root, "guides").length).toBe(2);
  expect(partOf(root, "none").length).toBe(1);
  await expectPicture(figure, "residuals-fitted");
});

test("residuals of the table are reading less fit, and sum to nothing", () => {
  const fit = sweepFit();
  const { rows } = residualFigure(fit).table;
  rows.forEach((row, index) => expect(row[3]).toBe(fit.rows[index].residual));
  // Least squares with an intercept; ten numbers of about 1.
  expect(rows.reduce((sum, row) => sum + Number(row[3]), 0)).toBeCloseTo(0, 12);
});

test("on logarithms residuals are ratios of reading to fit", async () => {
  const fit = factorialFit();
  const figure = residualFigure(fit, { against: { factor: "edge" } });
  const root = expectSound(figure);
  expect(textBoxes(root).map((box) => box.text)).toEqual(
    expect.arrayContaining(["×1", "Ra: read by fitted"]),
  );
  expect(figure.table.rows[0][3]).toBeCloseTo(Math.exp(fit.rows[0].residual), 12);
  await expectPicture(figure, "residuals-category");
});

test("against order each run stands at its own place", async () => {
  const figure = residualFigure(sweepFit(), { against: "order" });
  const root = expectSound(figure);
  const places = partOf(root, "residuals").map((mark) => Number(mark.attributes["cx"]));
  expect(places).toEqual([...places].sort((a, b) => a - b));
  expect(new Set(places).size).toBe(10);
  await expectPicture(figure, "residuals-order");
});

test("a run that stands apart is numbered and named in the text", () => {
  const runs = sweepRuns.map((run, index) => (index === 3 ? { ...run, single: [1.6] } : run));
  const fit = sweepFit({ runs });
  const worst = { ...fit, rows: fit.rows.map((row) => (row.run === 4 ? { ...row, studentised: 9 } : row)) };
  const figure = residualFigure(worst, { against: { factor: "feed" } });
  expect(partOf(expectSound(figure), "run-names").map((text) => text.text)).toEqual(["run 4"]);
  expect(figure.description).toContain("Studentised residuals past 3: run 4.");
});

test("a fit that leaves no scatter is drawn with the reason", () => {
  const figure = residualFigure(sweepFit({ t: null }));
  expectSound(figure);
  expect(figure.description).toContain("No residual standard deviation: every run is used up by the model");
});

test("2,448 residuals are thinned by counting and stay small", () => {
  const runs = Array.from({ length: 2448 }, (_, index) => ({
    settings: { feed: 0.08 + (index % 17) * 0.01 },
    single: [0.4 + (index % 17) * 0.08 + 0.1 * Math.sin(index * 12.9898)],
  }));
  const figure = residualFigure(sweepFit({ runs }), { against: "order" });
  expectSound(figure);
  expect(figure.svg.length).toBeLessThan(300_000);
  expect(figure.description).toMatch(/2448 residuals are drawn as \d+ marks/u);
});
