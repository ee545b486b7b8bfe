import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { foldChoices, grow, layOut } from "../../../src/layout/index.ts";
import type { Factor, Run } from "../../../src/trial/index.ts";
import { coded, coolant, edge, feed } from "../factors.ts";

/** Length of the shortest product of factors that never changes over the runs: counted, by brute force. */
function resolutionOf(factors: readonly Factor[], runs: readonly Run[]): number {
  const rows = runs.map((run) => factors.map(({ name }) => Number(run.settings[name])));
  let least = Infinity;
  for (let word = 1; word < 2 ** factors.length; word += 1) {
    const places = factors.flatMap((_, place) => ((word >> place) & 1 ? [place] : []));
    const products = rows.map((row) => places.reduce((product, place) => product * row[place], 1));
    if (products.every((product) => product === products[0])) least = Math.min(least, places.length);
  }
  return least;
}

const fraction = (count: number, runs: number) => {
  const factors = coded(count);
  return { factors, runs: layOut({ factors, layout: { kind: "fraction", runs } }).runs };
};

describe("folding a fraction over", () => {
  test("all factors of a fraction of resolution III turned over give resolution IV, counted from the runs", () => {
    // Box, Hunter and Hunter, Statistics for Experimenters, 2nd ed. (2005), section 6.7.
    for (const [count, size] of [
      [3, 4],
      [5, 8],
      [6, 8],
      [7, 8],
      [9, 16],
      [11, 16],
    ] as const) {
      const cut = fraction(count, size);
      expect(resolutionOf(cut.factors, cut.runs)).toBe(3);
      const { runs } = grow(cut, { by: "fold" });
      expect(resolutionOf(cut.factors, [...cut.runs, ...runs])).toBeGreaterThanOrEqual(4);
      expect(runs).toHaveLength(size);
    }
  });

  test("one factor turned over frees it and all its products of two", () => {
    const cut = fraction(7, 8);
    fc.assert(
      fc.property(fc.constantFrom(...cut.factors.map(({ name }) => name)), (name) => {
        const [choice] = foldChoices(cut).filter(({ factors }) => factors.join() === name);
        expect(choice.leaves.filter((group) => group.includes(name))).toEqual([]);
        expect(choice.leaves.length).toBeGreaterThan(0);
      }),
      { seed: 20261125, numRuns: 7 },
    );
  });

  test("says in alias words what each fold frees", () => {
    const cut = fraction(3, 4);
    expect(foldChoices(cut).map(({ text }) => text)).toEqual(
      ["all factors", "A", "B", "C"].map(
        (which) =>
          `Fold ${which}: A = BC splits into A | BC; B = AC splits into B | AC; C = AB splits into C | AB. Resolution III becomes V or better. No effect of one or two factors hides in another.`,
      ),
    );
  });

  test("takes a Plackett–Burman layout to main effects free of products of two", () => {
    const factors = coded(11);
    const { runs } = layOut({ factors, layout: { kind: "plackett-burman", runs: 12 } });
    const [all] = foldChoices({ factors, runs });
    expect(all.text).toContain(
      "no product of two factors stands in a main effect any more (the largest part was 0.33)",
    );
    expect(grow({ factors, runs }, { by: "fold" }).runs).toHaveLength(12);
  });

  test("numbers the runs on, in a block of their own, the same for the same seed", () => {
    const cut = fraction(5, 8);
    const one = grow(cut, { by: "fold", seed: 7 });
    expect(one.runs.map(({ run }) => run)).toEqual([9, 10, 11, 12, 13, 14, 15, 16]);
    expect(new Set(one.runs.map(({ block }) => block))).toEqual(new Set([2]));
    expect(grow(cut, { by: "fold", seed: 7 })).toEqual(one);
    expect(grow(cut, { by: "fold", seed: 8 }).runs).not.toEqual(one.runs);
  });

  test("turns categories of two levels and machine steps over, and ties the blocks where asked", () => {
    const factors = [{ ...feed, increment: 0.01 }, edge, coded(1)[0]];
    const { runs } = layOut({ factors, layout: { kind: "fraction", runs: 4, centrePoints: 1 } });
    const grown = grow({ factors, runs }, { by: "fold", tie: 2 });
    const corners = grown.runs.filter(({ role }) => role === "corner");
    expect(corners).toHaveLength(4);
    expect(grown.runs.filter(({ role }) => role === "centre").map(({ run }) => run - runs.length)).toEqual([
      1, 6,
    ]);
    expect(corners.every(({ settings }) => [0.08, 0.24].includes(Number(settings["feed"])))).toBe(true);
  });

  test("is refused where it frees nothing or a factor has three levels, with what would work", () => {
    const full = {
      factors: coded(2),
      runs: layOut({ factors: coded(2), layout: { kind: "factorial" } }).runs,
    };
    expect(() => grow(full, { by: "fold" })).toThrow(
      'grow by fold: turning over A and B frees nothing. Nothing of one or two factors hides in these runs: a fold is a replicate. Use "replicate" to narrow an answer, or "axial" to see curves.',
    );
    const four = fraction(4, 8);
    expect(() => grow(four, { by: "fold" })).toThrow(
      "grow by fold: turning over A, B, C and D frees nothing. Fold A, B, C or D instead.",
    );
    const three = [feed, coolant];
    const { runs } = layOut({ factors: three, layout: { kind: "factorial" } });
    expect(() => grow({ factors: three, runs }, { by: "fold" })).toThrow(
      'grow by fold: coolant is cut at 3 settings, and a fold turns over factors of two. Use "separate" to tell two explanations apart, or "replicate".',
    );
    expect(() => grow(four, { by: "fold", factors: ["Z"] })).toThrow(
      'grow.factors: "Z" is not cut at two settings in this trial. Fold A, B, C or D.',
    );
  });

  test("changes nothing that it was given", () => {
    const cut = fraction(3, 4);
    const before = structuredClone(cut);
    grow(cut, { by: "fold" });
    expect(cut).toEqual(before);
  });
});
