import { expect, test } from "vitest";
import { fitMixed } from "../../../src/model/index.ts";
import { splitPlotTrial } from "./split-plot-trial.ts";

const zero = /^How far to trust 95 % intervals beside a variance of zero: .* 97\.9 % .* 93\.9 % /;
const few = /^How far to trust 95 % intervals with so few levels: .* 98\.8 % .* 96\.1 % /;

test.each([
  ["eight whole plots that scatter", { seed: 4, plot: 0.1, wholePlots: 8 }, false, false],
  ["eight whole plots that add nothing", { seed: 3, plot: 0, wholePlots: 8 }, true, false],
  ["four whole plots that scatter", { seed: 4, plot: 0.3, wholePlots: 4 }, false, true],
] as const)("%s: the notes say where the true coverage is known to differ", (_, given, isZero, isFew) => {
  const { notes } = fitMixed(splitPlotTrial({ ...given, run: 0.05, reading: 0.03 }), { model: "power-law" });
  expect(notes.some((note) => zero.test(note))).toBe(isZero);
  expect(notes.some((note) => few.test(note))).toBe(isFew);
});
