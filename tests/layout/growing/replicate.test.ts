import { describe, expect, test } from "vitest";
import { grow, judge, layOut } from "../../../src/layout/index.ts";
import type { Run, Settings } from "../../../src/trial/index.ts";
import { coded, coolant, feed } from "../factors.ts";

const factors = coded(2);
const cut = { factors, runs: layOut({ factors, layout: { kind: "factorial", centrePoints: 1 } }).runs };
const distinct: readonly Settings[] = [
  ...new Map(cut.runs.map((run) => [JSON.stringify(run.settings), run.settings])).values(),
];

/** Every way of repeating so many of the distinct settings. */
function repeats(size: number, from = 0): readonly (readonly Settings[])[] {
  if (size === 0) return [[]];
  return distinct.flatMap((settings, place) =>
    place < from ? [] : repeats(size - 1, place).map((rest) => [settings, ...rest]),
  );
}

const halfWidth = (runs: readonly Pick<Run, "block" | "settings">[], label: string) =>
  judge(runs, factors, { terms: [{ A: 1 }, { B: 1 }], sigma: 0.1 }).terms.find((term) => term.label === label)
    ?.halfWidth ?? Infinity;

describe("repeating only what decides", () => {
  test("takes the repeats that an exhaustive search through the judgement finds best", () => {
    for (const block of ["new", "last"] as const) {
      for (const count of [2, 3, 4]) {
        const { judged, runs } = grow(cut, {
          by: "replicate",
          question: { effect: "A" },
          runs: count,
          sigma: 0.1,
          block,
        });
        const least = Math.min(
          ...repeats(count).map((added) =>
            halfWidth(
              [...cut.runs, ...added.map((settings) => ({ block: block === "new" ? 2 : 1, settings }))],
              "A",
            ),
          ),
        );
        expect(runs).toHaveLength(count);
        expect(judged.after.terms.find(({ label }) => label === "A")?.halfWidth).toBeCloseTo(least, 12);
      }
    }
  });

  test("says the half-width before and after, and what fewer runs would give", () => {
    const { brings, runs } = grow(cut, {
      by: "replicate",
      question: { effect: "A" },
      runs: 2,
      sigma: 0.1,
      block: "last",
    });
    // t(0.975, 2) · 2 · 0.1 / √4 before, t(0.975, 4) · 2 · 0.1 / √6 with one more at each end: 0.43 and 0.23.
    expect(brings[0]).toBe("The effect of A: ± 0.43 becomes ± 0.23 with 2 runs (1 run ± 0.29).");
    expect(runs.map(({ settings }) => Math.abs(Number(settings["A"])))).toEqual([1, 1]);
  });

  test("reaches a half-width with the fewest runs", () => {
    const asked = {
      by: "replicate",
      question: { effect: "A" },
      sigma: 0.1,
      halfWidth: 0.2,
      block: "last",
    } as const;
    const { runs, judged } = grow(cut, asked);
    expect(judged.after.terms[0].halfWidth).toBeLessThanOrEqual(0.2);
    const fewer = grow(cut, {
      by: "replicate",
      question: { effect: "A" },
      sigma: 0.1,
      runs: runs.length - 1,
      block: "last",
    });
    expect(fewer.judged.after.terms[0].halfWidth).toBeGreaterThan(0.2);
    expect(() => grow(cut, { ...asked, halfWidth: 0.001 })).toThrow(
      /^grow.halfWidth: 40 repeats bring the effect of A to ± 0.06\d?, not to ± 0.001\./,
    );
  });

  test("for the mean at a setting repeats near it", () => {
    const { runs, brings } = grow(cut, {
      by: "replicate",
      question: { at: { A: 1, B: 1 } },
      runs: 2,
      block: "last",
    });
    expect(runs.map(({ settings }) => settings)).toEqual([
      { A: 1, B: 1 },
      { A: 1, B: 1 },
    ]);
    expect(brings[0]).toMatch(/^The mean at A 1 and B 1: ± .* σ becomes ± .* σ with 2 runs/);
  });

  test("weighs every level of a category", () => {
    const three = [feed, coolant];
    const trial = { factors: three, runs: layOut({ factors: three, layout: { kind: "factorial" } }).runs };
    const { runs } = grow(trial, {
      by: "replicate",
      question: { effect: "coolant" },
      runs: 3,
      block: "last",
    });
    expect(new Set(runs.map(({ settings }) => settings["coolant"]))).toEqual(
      new Set(["dry", "mist", "flood"]),
    );
  });

  test("is refused where repeats tell nothing, with what would", () => {
    const four = coded(4);
    const half = {
      factors: four,
      runs: layOut({ factors: four, layout: { kind: "fraction", runs: 8 } }).runs,
    };
    expect(() =>
      grow(half, { by: "replicate", question: { effect: "AB" }, terms: [{ A: 1 }, { C: 1, D: 1 }] }),
    ).toThrow(
      'grow by replicate: the runs can\'t tell the effect of A × B from others (C × D and A × B), and repeats of the same runs never will. Use "separate" or "fold".',
    );
    expect(() => grow(cut, { by: "replicate", question: { effect: "A" }, runs: 1 })).toThrow(
      'A new block brings a level of its own, which so few runs must pay for: cut them on at once, everything as it was ("block": "last"), or take more runs.',
    );
    expect(() => grow(cut, { by: "replicate", question: { at: { A: 1 } } })).toThrow(
      "grow.at: B is missing; expected a number of 1. Give a setting for each of A and B.",
    );
  });
});

describe("proof runs of a recipe", () => {
  const asked = { by: "proof", at: { A: 1, B: 0 }, rule: "parts", limit: 0.8, side: "at-most" } as const;

  test("stand at its setting, as many as the rule needs, in a block of their own", () => {
    const { runs, proof, brings } = grow(cut, asked);
    expect(runs).toHaveLength(22);
    expect(proof).toMatchObject({ runs: 22, criterion: { kind: "count", mostOver: 1 } });
    expect(
      new Set(runs.map(({ role, block, settings }) => JSON.stringify({ role, block, settings }))),
    ).toEqual(new Set([JSON.stringify({ role: "proof", block: 2, settings: { A: 1, B: 0 } })]));
    expect(brings[0]).toBe(proof?.ruleText);
  });

  test("are refused where no rule keeps both chances, and where the limit is not known", () => {
    expect(() => grow(cut, { ...asked, goodShare: 0.9, badShare: 0.89 })).toThrow(
      /^grow by proof: 93 proof runs that pass a bad recipe .* would fail a good one/,
    );
    expect(() => grow(cut, { by: "proof", at: { A: 1, B: 0 } })).toThrow(
      'grow.limit: no limit is stated. Give "limit", or state it in the trial\'s response.',
    );
  });
});
