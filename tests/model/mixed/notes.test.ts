import { readFile } from "node:fs/promises";
import { expect, test } from "vitest";
import { fitMixed, observeTable } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { readCoverage } from "../../coverage/coverage-table.ts";
import { splitPlotTrial } from "./split-plot-trial.ts";

const drawn = readCoverage(await readFile(new URL("../../coverage/coverage.csv", import.meta.url), "utf8"));

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

/** Two runs in each of two set-ups on each day. */
function onDays(days: number, setUp: (day: number, s: number) => string) {
  const random = seededRandom(5);
  const rows = Array.from({ length: 4 * days }, (_, i) => ({
    day: Math.floor(i / 4),
    s: Math.floor(i / 2) % 2,
  }));
  const columns = [
    { name: "day", unit: "", values: rows.map(({ day }) => `day ${day}`) },
    { name: "set-up", unit: "", values: rows.map(({ day, s }) => setUp(day, s)) },
    { name: "feed", unit: "mm/rev", values: rows.map((_, i) => [0.1, 0.2][i % 2]) },
    { name: "Ra", unit: "µm", values: rows.map(() => 1 + 0.1 * random.normal()) },
  ];
  return fitMixed(
    observeTable({ columns }, { response: "Ra", factors: ["feed"], random: ["day", "set-up"] }),
  ).notes.filter((note) => note.startsWith("How far to trust"));
}

test("set-ups within few days: the notes say how often intervals held in trials drawn so", () => {
  const told = onDays(4, (day, s) => `${day}-${s}`);
  expect(told).toHaveLength(1);
  expect(told[0]).toContain("with one source within another");
  // By the committed table of coverage.
  for (const name of [
    "effect of a factor of set-ups, 12 runs in 6 set-ups on 3 days",
    "effect of a factor of set-ups, 16 runs in 8 set-ups on 4 days",
    "effect of a factor of set-ups, 16 runs in 8 set-ups on 4 days that add nothing",
    "effect of a factor of set-ups, 32 runs in 16 set-ups on 8 days",
    "mean at a setting, 16 runs in 8 set-ups on 4 days that add nothing",
    ...["share", "standard deviation"].flatMap((which) =>
      ["days", "set-ups", "runs"].flatMap((what) =>
        ["12 runs in 6 set-ups on 3 days", "16 runs in 8 set-ups on 4 days"].map(
          (of) => `${which} of the ${what}, ${of}`,
        ),
      ),
    ),
  ]) {
    const line = drawn.find((one) => one.name === `nested: ${name}`)!;
    const percent = (100 * line.share).toFixed(1).replace(".", String.raw`\.`);
    expect(told[0]).toMatch(new RegExp(String.raw`\b${percent}\b`));
  }
});

test("many days, and places that every day shares: no such note", () => {
  expect(onDays(9, (day, s) => `${day}-${s}`)).toEqual([]);
  expect(onDays(9, (_, s) => `place ${s}`).join("")).not.toContain("one source within another");
});

test("what is told says set-up, what is called by name keeps the standard's word", () => {
  const fit = fitMixed(splitPlotTrial({ seed: 4, plot: 0.3, wholePlots: 4, run: 0.05, reading: 0.03 }), {
    model: "power-law",
  });
  expect(fit.random).toEqual(["whole plot"]);
  expect(fit.variances[0]).toMatchObject({
    source: "whole plot",
    sentence: expect.stringMatching(/^From one set-up to another Ra scatters by /) as string,
  });
  const told = [...fit.notes, ...fit.variances.map(({ sentence }) => sentence)].join("\n");
  expect(told).toContain("between levels of set-up allows");
  expect(told).toContain("Only 4 levels of set-up: ");
  // The standard's word stands in brackets at most.
  expect(told.replaceAll("(whole plots)", "")).not.toMatch(/whole plot/);
});
