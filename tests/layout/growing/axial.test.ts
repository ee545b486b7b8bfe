import { describe, expect, test } from "vitest";
import { grow, judge, layOut } from "../../../src/layout/index.ts";
import { parseTrialSpec, type Run } from "../../../src/trial/index.ts";
import { coded, edge, feed, speed } from "../factors.ts";

const factorial = (count: number, centrePoints: number) => {
  const factors = coded(count);
  return { factors, runs: layOut({ factors, layout: { kind: "factorial", centrePoints } }).runs };
};
const at = (run: Run, name: string) => Number(run.settings[name]);

describe("axial runs onto a factorial that was cut", () => {
  test("block-orthogonal: every column of the full quadratic has the same mean in both blocks", () => {
    // Box and Hunter (1957), Annals of Mathematical Statistics 28, 195–241: the condition for orthogonal blocks.
    for (const [count, centre, added] of [
      [2, 3, 3],
      [3, 4, 2],
      [4, 1, 5],
    ] as const) {
      const cut = factorial(count, centre);
      const { runs, brings } = grow(cut, { by: "axial", centrePoints: added });
      for (const { name: one } of cut.factors) {
        for (const { name: other } of cut.factors) {
          const mean = (part: readonly Run[]) =>
            part.reduce((sum, run) => sum + at(run, one) * at(run, other), 0) / part.length;
          // Settings are kept to 12 figures.
          expect(mean(runs)).toBeCloseTo(mean(cut.runs), 10);
        }
      }
      expect(brings[0]).toBe(
        "The step from block to block stays wholly out of every effect and curve (orthogonal blocks).",
      );
    }
  });

  test("rotatable: the fourth moments are those of a circle", () => {
    const cut = factorial(3, 2);
    const { runs } = grow(cut, { by: "axial", axial: "rotatable" });
    const all = [...cut.runs, ...runs];
    const moment = (power: (run: Run) => number) => all.reduce((sum, run) => sum + power(run), 0);
    // Box and Hunter (1957): the sum of x⁴ is three times the sum of x²y².
    expect(moment((run) => at(run, "A") ** 4)).toBeCloseTo(
      3 * moment((run) => at(run, "A") ** 2 * at(run, "B") ** 2),
      8,
    );
  });

  test("face: nothing is cut outside low and high, on the machine's steps", () => {
    const factors = [{ ...feed, increment: 0.02 }, speed, edge];
    const { runs } = layOut({ factors, layout: { kind: "factorial" } });
    const grown = grow({ factors, runs }, { by: "axial", axial: "face", range: "limits", centrePoints: 1 });
    const feeds = [...new Set(grown.runs.map(({ settings }) => settings["feed"]))].sort();
    expect(feeds).toEqual([0.08, 0.16, 0.24]);
    expect(grown.runs.filter(({ role }) => role === "axial")).toHaveLength(8);
    expect(grown.runs.filter(({ settings }) => settings["edge"] === "used")).toHaveLength(5);
  });

  test("makes every term of a curved surface known, with a block in the model", () => {
    const cut = factorial(3, 3);
    const { judged } = grow(cut, { by: "axial" });
    expect(judged.before.inseparable.length).toBeGreaterThan(0);
    expect(judged.after.inseparable).toEqual([]);
    expect(judged.after.terms).toHaveLength(9);
    // 11 + 9 runs less mean, block and nine terms.
    expect(judged.after.df).toBe(9);
  });

  test("is judged on what was cut, not on what was planned", () => {
    const cut = factorial(2, 3);
    const spec = specOf();
    const grownAsCut = grow(
      {
        name: "t",
        spec: { ...spec, factors: cut.factors },
        runs: cut.runs,
        asCut: [{ run: 1, factor: "A", value: 0.5, unit: "1", reason: "slipped" }],
        readings: [],
        checksum: "",
      },
      { by: "axial" },
    );
    const asCut = cut.runs.map((run) =>
      run.run === 1 ? { ...run, settings: { ...run.settings, A: 0.5 } } : run,
    );
    const { before } = grownAsCut.judged;
    expect(before).toEqual(judge(asCut, cut.factors, { model: "surface", sigma: 1 }));
    expect(before).not.toEqual(judge(cut.runs, cut.factors, { model: "surface", sigma: 1 }));
  });

  test("an inscribed layout is refused as impossible now, and face is offered", () => {
    const cut = factorial(2, 3);
    expect(() => grow(cut, { by: "axial", axial: "rotatable", range: "limits" })).toThrow(
      'grow by axial: the axial runs would stand at 1.4142 times the half range, and nothing may be cut beyond low and high. Corners that are cut already can\'t be drawn in, so an inscribed layout is impossible now: take "axial": "face" (a distance of 1).',
    );
  });

  test("a limit of the machine is kept, with the run and the way that stays inside it", () => {
    const spec = specOf({ machine: { maxSpeed: "1300 rev/min" } });
    const { runs } = layOut({ factors: spec.factors, layout: { kind: "factorial" } });
    const trial = { name: "t", spec, runs, asCut: [], readings: [], checksum: "" };
    expect(() => grow(trial, { by: "axial", axial: 2 })).toThrow(
      /a limit is passed\.\nAn axial run asks for .* above the spindle limit of 1300 rev\/min.*take "axial": "face"/s,
    );
    expect(grow(trial, { by: "axial", axial: "face" }).runs).toHaveLength(7);
  });

  test("unknown options are refused by name", () => {
    const cut = factorial(2, 0);
    const asked = { by: "axial", axail: 2 } as unknown as Parameters<typeof grow>[1]; // what a JSON file may hold
    expect(() => grow(cut, asked)).toThrow(
      'grow: "axail" is not an option of "axial". It takes axial, block,',
    );
  });
});

function specOf(more: Record<string, unknown> = {}) {
  return parseTrialSpec({
    format: "trycut-trial/1",
    title: "Invented",
    question: "What moves Ra?",
    dataKind: "invented",
    source: "made up for a test",
    display: "metric",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 800, high: 1250 },
    ],
    responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
    layout: { kind: "factorial" },
    held: { depth: "0.1 mm" },
    ...more,
  });
}
