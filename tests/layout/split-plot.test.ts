import { describe, expect, test } from "vitest";
import { fewestWholePlots, judge, layOut, strataOf } from "../../src/layout/index.ts";
import { tQuantile } from "../../src/numerics/index.ts";
import { wholePlotsOf, type Factor, type Run } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed } from "./factors.ts";

/** So many coded factors, the first ones hard to change. */
function split(hard: number, easy: number): readonly Factor[] {
  return coded(hard + easy).map((factor, place) => (place < hard ? { ...factor, change: "hard" } : factor));
}

function plotsOf(runs: readonly Run[]): readonly (readonly Run[])[] {
  const plots = new Map<number, Run[]>();
  for (const run of runs) plots.set(run.wholePlot ?? 0, [...(plots.get(run.wholePlot ?? 0) ?? []), run]);
  return [...plots.values()];
}

describe("whole plots of a list of runs", () => {
  const factors: readonly Factor[] = [{ ...edge, change: "hard" }, feed];
  const cut = ["fresh", "fresh", "used", "used", "fresh", "fresh"].map((level) => ({
    block: 1,
    settings: { edge: level, feed: 0.1 },
  }));

  test("end where a hard factor or the block changes", () => {
    expect(wholePlotsOf(cut, factors)?.of).toEqual([1, 1, 2, 2, 3, 3]);
    const blocked = cut.map((run, place) => ({ ...run, block: place < 1 ? 1 : 2 }));
    expect(wholePlotsOf(blocked, factors)?.of).toEqual([1, 2, 3, 3, 4, 4]);
  });

  test("are those that the runs carry, so that a set-up made anew at one setting is seen", () => {
    const carried = cut.map((run, place) => ({ ...run, wholePlot: Math.floor(place / 2) + 1 }));
    const alike = carried.map((run) => ({ ...run, settings: { edge: "fresh", feed: 0.1 } }));
    expect(wholePlotsOf(alike, factors)?.of).toEqual([1, 1, 2, 2, 3, 3]);
  });

  test("are none where no factor is hard to change", () => {
    expect(wholePlotsOf(cut, [edge, feed])).toBeNull();
  });

  test("are a stratum whose degrees of freedom add up with the others to runs less 1", () => {
    const strata = strataOf(cut, factors);
    expect(strata.map(({ name, count, df }) => [name, count, df])).toEqual([
      ["whole plots", 3, 2],
      ["runs", 6, 3],
    ]);
  });
});

describe("a factorial in whole plots", () => {
  test.each(["random", "drift-proof", "as-listed"])("keeps whole plots together in %s order", (order) => {
    const factors = split(1, 3);
    const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 2, order, seed: 5 } });
    const plots = plotsOf(runs);
    expect(plots.map((plot) => plot.length)).toEqual([8, 8, 8, 8]);
    for (const plot of plots) {
      expect(new Set(plot.map((run) => run.settings["A"])).size).toBe(1);
      const first = plot[0]?.run ?? 0;
      expect(plot.map((run) => run.run)).toEqual(plot.map((_, place) => first + place));
    }
    expect(new Set(runs.map((run) => run.standard)).size).toBe(32);
  });

  test.each([
    [4, 4],
    [8, 2],
  ])(
    "of 16 runs in %i whole plots has %i runs in each, with every easy main effect inside",
    (count, size) => {
      const factors = split(1, 3);
      const { runs } = layOut({ factors, layout: { kind: "factorial", wholePlots: count } });
      const plots = plotsOf(runs);
      expect(plots.map((plot) => plot.length)).toEqual(plots.map(() => size));
      for (const name of ["B", "C", "D"])
        for (const plot of plots)
          expect(plot.reduce((sum, run) => sum + Number(run.settings[name]), 0)).toBe(0);
    },
  );

  test("holds several replicates in one whole plot where fewer are asked for", () => {
    const { runs } = layOut({
      factors: split(1, 2),
      layout: { kind: "factorial", replicates: 4, wholePlots: 4 },
    });
    expect(plotsOf(runs).map((plot) => plot.length)).toEqual([8, 8, 8, 8]);
  });

  test("halves whole plots of a hard category with three levels", () => {
    const factors: readonly Factor[] = [{ ...coolant, change: "hard" }, ...coded(2)];
    const { runs } = layOut({ factors, layout: { kind: "factorial", wholePlots: 6 } });
    const plots = plotsOf(runs);
    expect(plots).toHaveLength(6);
    for (const plot of plots) expect(new Set(plot.map((run) => run.settings["coolant"])).size).toBe(1);
  });

  test("puts centre runs of an easy quantity into the whole plots that are there", () => {
    const factors: readonly Factor[] = [{ ...edge, change: "hard" }, feed];
    const layout = layOut({ factors, layout: { kind: "factorial", replicates: 2, centrePoints: 2 } });
    expect(plotsOf(layout.runs).map((plot) => plot.length)).toEqual([3, 3, 3, 3]);
  });

  test("says how its terms will be tested, and what can't be", () => {
    const layout = layOut({ factors: split(1, 2), layout: { kind: "factorial" } });
    expect(layout.analysis?.terms.find(({ label }) => label === "A")).toMatchObject({
      stratum: "whole plots",
      df: null,
      comparedWith: "no test: no degree of freedom is left between set-ups",
    });
    expect(layout.analysis?.sentences[0]).toBe(
      "A can't be tested: 2 set-ups of A leave no degree of freedom for the scatter between set-ups. 1 more set-up at a setting that is there already is the least; cutting every set-up twice (4 in all) leaves 2.",
    );
  });
});

describe("a fraction in whole plots", () => {
  test.each([
    [2, 5, 16, undefined],
    [2, 5, 32, 8],
    [4, 3, 32, 8],
    [3, 4, 16, undefined],
    [4, 6, 32, undefined],
  ])(
    "of %i hard and %i easy factors in %i runs moves every easy factor in each whole plot",
    (hard, easy, runs, wholePlots) => {
      const factors = split(hard, easy);
      const layout = layOut({
        factors,
        layout: { kind: "fraction", runs, ...(wholePlots === undefined ? {} : { wholePlots }) },
      });
      expect(layout.runs).toHaveLength(runs);
      expect(layout.resolution).toBeGreaterThanOrEqual(3);
      const plots = plotsOf(layout.runs);
      if (wholePlots !== undefined) expect(plots).toHaveLength(wholePlots);
      for (const plot of plots) {
        for (const factor of factors) {
          const sum = plot.reduce((total, run) => total + Number(run.settings[factor.name]), 0);
          expect(Math.abs(sum)).toBe(factor.change === "hard" ? plot.length : 0);
        }
      }
    },
  );

  test("of 3 hard and 4 easy factors has the fewest words of three by trying every generator", () => {
    // 16 runs, whole plots of the full 2³ of A, B, C: D the one free letter; E, F, G each D times a word of ABC.
    const layout = layOut({ factors: split(3, 4), layout: { kind: "fraction", runs: 16 } });
    const words = (layout.definingRelation ?? []).map((word) => word.replace("−", "").length);
    const best = bestPattern();
    expect([3, 4, 5].map((length) => words.filter((own) => own === length).length)).toEqual(best);
  });

  test("in fewer whole plots than hard settings makes a fraction of the hard factors by themselves", () => {
    const layout = layOut({ factors: split(4, 3), layout: { kind: "fraction", runs: 32, wholePlots: 8 } });
    expect(layout.generators).toContain("D = ABC");
    expect(layout.resolution).toBe(4);
  });

  function bestPattern(): readonly number[] {
    let best: readonly number[] | undefined;
    for (let e = 1; e < 8; e += 1)
      for (let f = e + 1; f < 8; f += 1)
        for (let g = f + 1; g < 8; g += 1) {
          const masks = [1, 2, 4, 8, 8 | e, 8 | f, 8 | g];
          const counts = new Array<number>(8).fill(0);
          for (let subset = 1; subset < 128; subset += 1) {
            const inside = masks.filter((_, place) => (subset >> place) & 1);
            if (inside.reduce((sum, mask) => sum ^ mask, 0) === 0)
              counts[inside.length] = (counts[inside.length] ?? 0) + 1;
          }
          const pattern = counts.slice(3, 6);
          const at = best ? pattern.findIndex((count, place) => count !== best?.[place]) : 0;
          if (!best || (at >= 0 && (pattern[at] ?? 0) < (best[at] ?? 0))) best = pattern;
        }
    return best ?? [];
  }
});

describe("the fewest set-ups for a wanted half-width", () => {
  test("are found by closed form too: one hard and one easy factor", () => {
    const request = { factors: split(1, 1), layout: { kind: "factorial" } };
    const { plan } = fewestWholePlots(request, { sigma: 1, halfWidth: 3 });
    // W set-ups of 2 runs: variance of the effect 4/W·(1 + 1/2), W − 2 degrees of freedom; W even.
    const halfWidth = (count: number) => tQuantile(0.975, count - 2) * Math.sqrt((4 / count) * 1.5);
    expect(halfWidth(4)).toBeGreaterThan(3);
    expect(plan).toMatchObject({ wholePlots: 6, runs: 12, df: 4 });
    expect(plan?.halfWidth).toBeCloseTo(halfWidth(6), 12);
  });

  test("that can't be had say what can", () => {
    const request = { factors: split(1, 1), layout: { kind: "factorial" } };
    const { plan, text } = fewestWholePlots(request, { sigma: 1, halfWidth: 0.01, unit: "µm" });
    expect(plan).toBeNull();
    expect(text).toMatch(
      /^± 0.01 µm for A can't be had with up to 512 runs; ± [\d.]+ µm can, with \d+ set-ups/,
    );
  });
});

describe("what can't be cut in whole plots is refused with the numbers that can", () => {
  const plan = (factors: readonly Factor[], layout: Readonly<Record<string, unknown>>) => () =>
    layOut({ factors, layout: { kind: "factorial", ...layout } });

  test("a number that does not divide the runs", () => {
    expect(plan(split(1, 3), { wholePlots: 6 })).toThrow(
      'layout.wholePlots: the 16 runs of this "factorial", at 2 settings of A, can\'t be cut in 6 set-ups. Take 2, 4, 8 or 16; more replicates allow more.',
    );
  });

  test("whole plots without a hard factor", () => {
    expect(plan(split(0, 3), { wholePlots: 4 })).toThrow(
      'layout.wholePlots: no factor of "factorial" is hard to change, so runs share no set-up. Mark one with "change": "hard", or leave wholePlots out.',
    );
  });

  test("hard factors everywhere", () => {
    expect(plan(split(3, 0), { wholePlots: 5 })).toThrow(
      'layout.wholePlots: the 8 runs of this "factorial", at 8 settings of A, B and C, can\'t be cut in 5 set-ups. 8 can be had; more replicates allow more.',
    );
    expect(plan(split(3, 0), {})().notes).toContain(
      "Every factor is hard to change, so nothing is gained by sharing a set-up: leave one easy, or plan one set-up a run.",
    );
  });

  test("too few whole plots for the hard factors of a fraction", () => {
    expect(plan(split(2, 5), { kind: "fraction", runs: 16, wholePlots: 2 })).toThrow(
      "layout.wholePlots: 16 runs can't be cut in 2 set-ups that tell A and B. Take 4, 8 or 16.",
    );
  });

  test("generators by which an easy factor never moves within a whole plot", () => {
    expect(plan(split(2, 3), { kind: "fraction", generators: ["E = AB"] })).toThrow(
      "layout.generators: E would stay the same all through each set-up, being made of factors that are hard to change only. Let the generator hold at least 1 factor that is easy to change.",
    );
  });

  test("a variance ratio below zero", () => {
    const { runs } = layOut({ factors: split(1, 2), layout: { kind: "factorial", replicates: 2 } });
    expect(() => judge(runs, split(1, 2), { sigma: 1, varianceRatio: -1 })).toThrow(
      "varianceRatio is -1; expected the variance between set-ups over the variance between runs, 0 or above. 1 says that a set-up scatters as much as a run; take 0 where setting anew adds no scatter.",
    );
  });
});
