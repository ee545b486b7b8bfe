import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { grow, layOut } from "../../../src/layout/index.ts";
import { parseTrialSpec, type Run, type Settings } from "../../../src/trial/index.ts";
import { coded, edge, feed, speed } from "../factors.ts";

const runsOf = (settings: readonly Settings[]): readonly Run[] =>
  settings.map((own, index) => ({
    run: index + 1,
    standard: index + 1,
    block: 1,
    role: "given",
    settings: own,
  }));

/** Rank by elimination with the largest pivot: the plain second road. */
function rank(rows: readonly (readonly number[])[]): number {
  const left = rows.map((row) => [...row]);
  let found = 0;
  for (let column = 0; column < (left[0]?.length ?? 0); column += 1) {
    const pivot = left
      .slice(found)
      .reduce(
        (best, row, index) => (Math.abs(row[column]) > Math.abs(left[best][column]) ? found + index : best),
        found,
      );
    if (found >= left.length || Math.abs(left[pivot][column]) < 1e-9) continue;
    [left[found], left[pivot]] = [left[pivot], left[found]];
    for (let row = found + 1; row < left.length; row += 1) {
      const share = left[row][column] / left[found][column];
      left[row] = left[row].map((value, place) => value - share * left[found][place]);
    }
    found += 1;
  }
  return found;
}

const names = ["A", "B", "C"];
const corners = Array.from({ length: 8 }, (_, index) =>
  [0, 1, 2].map((bit) => ((index >> bit) & 1 ? 1 : -1)),
);
/** Mean, new block, A, B, C and the products that are asked about. */
const rowOf = (corner: readonly number[], block: number, products: readonly (readonly number[])[]) => [
  1,
  block,
  ...corner,
  ...products.map((places) => places.reduce((product, place) => product * corner[place], 1)),
];
/** True where both asked columns can be told, the others notwithstanding: leaving one out lowers the rank. */
const told = (rows: readonly (readonly number[])[], asked: readonly number[]) =>
  asked.every((column) => rank(rows) > rank(rows.map((row) => row.filter((_, place) => place !== column))));

describe("the fewest runs that separate two explanations", () => {
  test("are as few as an exhaustive search over every set of corners finds", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 7 }), { minLength: 3, maxLength: 7 }),
        fc.constantFrom(
          { text: ["A", "B"], products: [], columns: [2, 3] },
          { text: ["A", "BC"], products: [[1, 2]], columns: [2, 5] },
          { text: ["AB", "C"], products: [[0, 1]], columns: [4, 5] },
          {
            text: ["AB", "AC"],
            products: [
              [0, 1],
              [0, 2],
            ],
            columns: [5, 6],
          },
        ),
        fc.constantFrom("new" as const, "last" as const),
        (cut, { text, products, columns }, block) => {
          const cutRows = cut.map((index) => rowOf(corners[index], 0, products));
          const settings = cut.map((index) =>
            Object.fromEntries(names.map((name, place) => [name, corners[index][place]])),
          );
          // Every factor must have been cut at both settings, or it is no candidate.
          if (names.some((name) => new Set(settings.map((own) => own[name])).size < 2)) return;
          const fewest = [0, 1, 2, 3, 4].find((size) =>
            sets(8, size).some((places) =>
              told(
                [
                  ...cutRows,
                  ...places.map((place) => rowOf(corners[place], block === "new" ? 1 : 0, products)),
                ],
                columns,
              ),
            ),
          );
          const asked = () =>
            grow(
              { factors: coded(3), runs: runsOf(settings) },
              { by: "separate", between: [...text], block },
            );
          if (fewest === 0) expect(asked).toThrow("apart already");
          else if (fewest === undefined)
            expect(asked).toThrow(/apart\. They are one and the same|no runs at settings/);
          else {
            const { runs, judged, notes } = asked();
            expect(runs).toHaveLength(fewest);
            expect(notes[0]).toContain("fewer can't");
            for (const { label, standardError } of judged.after.terms)
              if (text.some((effect) => label.replaceAll(" × ", "") === effect))
                expect(standardError).not.toBeNull();
          }
        },
      ),
      { seed: 20261125, numRuns: 150 },
    );
  });

  test("are one run with one thing changed where two factors moved together once", () => {
    const usual = { feed: 0.08, speed: 800, edge: "fresh" };
    const cut = {
      factors: [feed, speed, edge],
      runs: runsOf([usual, { ...usual, feed: 0.24 }, usual, { feed: 0.08, speed: 1250, edge: "used" }]),
    };
    const { runs, brings } = grow(cut, { by: "separate", between: ["speed", "edge"], block: "last" });
    expect(runs.map(({ settings }) => settings)).toEqual([{ ...usual, speed: 1250 }]);
    expect(brings).toContain("edge used against fresh no longer hides in speed.");
    const later = grow(cut, { by: "separate", between: ["speed", "edge"] });
    // A new block has a level of its own, which costs one more.
    expect(later.runs).toHaveLength(2);
    expect(later.runs.every(({ block }) => block === 2)).toBe(true);
  });

  test("take alias strings as a fraction prints them, also of more than two effects", () => {
    const factors = coded(6);
    const { runs } = layOut({ factors, layout: { kind: "fraction", runs: 8 } });
    const grown = grow({ factors, runs }, { by: "separate", between: "A = BE = CF", block: "last" });
    expect(grown.runs).toHaveLength(2);
    const four = coded(4);
    const half = {
      factors: four,
      runs: layOut({ factors: four, layout: { kind: "fraction", runs: 8 } }).runs,
    };
    expect(grow(half, { by: "separate", between: "AB = −CD", block: "last" }).runs).toHaveLength(1);
    expect(grow(half, { by: "separate", between: ["A*B", { C: 1, D: 1 }], block: "last" }).runs).toEqual(
      grow(half, { by: "separate", between: "AB = CD", block: "last" }).runs,
    );
  });

  test("go to settings between where a curve is in question", () => {
    const factors = coded(2);
    const cut = { factors, runs: layOut({ factors, layout: { kind: "factorial" } }).runs };
    const { runs } = grow(cut, { by: "separate", between: ["A²", "B²"], block: "last" });
    expect(runs).toHaveLength(2);
    expect(runs.some(({ settings }) => settings["A"] === 0)).toBe(true);
  });

  test("keep the machine's limits, and say so where that leaves none", () => {
    const spec = parseTrialSpec({
      format: "trycut-trial/1",
      title: "Invented",
      question: "?",
      dataKind: "invented",
      source: "made up for a test",
      display: "metric",
      factors: [
        { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
        { name: "speed", kind: "quantity", unit: "rev/min", low: 1000, high: 2000 },
      ],
      responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
      layout: { kind: "given" },
      held: {},
      machine: { maxFeedSpeed: "250 mm/min" },
    });
    const trial = (settings: readonly Settings[]) => ({
      name: "t",
      spec,
      runs: runsOf(settings),
      asCut: [],
      readings: [],
      checksum: "",
    });
    const together = [
      { feed: 0.1, speed: 2000 },
      { feed: 0.2, speed: 1000 },
      { feed: 0.1, speed: 2000 },
    ];
    const { runs } = grow(trial(together), { by: "separate", between: ["feed", "speed"], block: "last" });
    // 0.2 mm/rev at 2000 rev/min is 400 mm/min, beyond the limit; 0.1 at 1000 is not.
    expect(runs.map(({ settings }) => settings)).toEqual([{ feed: 0.1, speed: 1000 }]);
  });

  test("are refused with the way out where nothing would do", () => {
    const factors = coded(4);
    const half = { factors, runs: layOut({ factors, layout: { kind: "fraction", runs: 8 } }).runs };
    expect(() => grow(half, { by: "separate", between: ["A", "B"] })).toThrow(
      'grow by separate: the runs tell A and B apart already. To know them better use "replicate".',
    );
    expect(() => grow(half, { by: "separate", between: ["A", "A"] })).toThrow("A stands twice");
    expect(() => grow(half, { by: "separate", between: "A" })).toThrow("is one effect; two are needed");
    expect(() => grow(half, { by: "separate", between: ["A", "Zed"] })).toThrow(
      'grow.between: "Zed" names "Zed", which is not a factor of this trial. It has A, B, C and D',
    );
  });
});

function sets(items: number, size: number): readonly (readonly number[])[] {
  if (size === 0) return [[]];
  return sets(items, size - 1).flatMap((places) =>
    Array.from({ length: items }, (_, place) => place)
      .filter((place) => place >= (places.at(-1) ?? 0))
      .map((place) => [...places, place]),
  );
}
