import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  compareLevels,
  equivalence,
  fitMixed,
  isInterval,
  main,
  observeTable,
  type MixedFit,
  type MixedOptions,
} from "../../../src/model/index.ts";
import { tQuantile } from "../../../src/numerics/index.ts";
import { fittedLike, mixedFixture, mixedReferences } from "../../reference/mixed-models.ts";

interface Told {
  readonly difference: number;
  readonly standardError: number;
  readonly df: number;
  readonly p: number;
}

interface PairsByR {
  readonly factor: string;
  readonly pairs: readonly {
    readonly from: string;
    readonly to: string;
    readonly satterthwaite: Told;
    readonly kenwardRoger: Told;
  }[];
}

const byR = JSON.parse(
  readFileSync(new URL("../../fixtures/comparisons/mixed.json", import.meta.url), "utf8"),
) as {
  readonly oats: {
    readonly variety: PairsByR;
    readonly nitrogen: PairsByR;
    readonly byHand: { readonly variety: number; readonly nitrogen: number };
  };
  readonly nested: { readonly coolant: PairsByR };
}; // written by mixed.R in this shape

function oats(options: MixedOptions = {}): MixedFit {
  const columns = mixedFixture("oats-split-plot");
  const plot = columns.block.map((block, i) => `${block} ${columns.variety[i]}`);
  const table = Object.entries({ ...columns, plot }).map(([name, values]) => ({ name, unit: "", values }));
  const observations = observeTable(
    { columns: table },
    {
      response: "yield",
      factors: ["variety", "nitrogen"],
      categories: ["variety", "nitrogen"],
      random: ["block", "plot"],
    },
  );
  return fitMixed(observations, { terms: [main("variety"), main("nitrogen")], ...options });
}

function nested(options: MixedOptions = {}): MixedFit {
  return fittedLike(
    mixedReferences.find(({ name }) => name === "nested in three")!,
    options,
  );
}

/** lme4 stops near its optimum: its figures are good to about 1e-7 in balanced, 1e-5 in unbalanced layouts. */
function expectAsByR(
  fit: MixedFit,
  wanted: PairsByR,
  how: "satterthwaite" | "kenwardRoger",
  relative: number,
) {
  const { pairs, methodText } = compareLevels(fit, { factor: wanted.factor });
  expect(pairs).toHaveLength(wanted.pairs.length);
  for (const given of wanted.pairs) {
    const pair = pairs.find(({ from, to }) => from === given.from && to === given.to)!;
    const { difference, standardError, df, p } = given[how];
    if (!isInterval(pair.value)) throw new Error(pair.value.reason);
    expect(Math.abs(pair.value.estimate - difference)).toBeLessThan(relative * standardError);
    expect(Math.abs(pair.standardError! / standardError - 1)).toBeLessThan(relative);
    expect(Math.abs(pair.df! / df - 1)).toBeLessThan(10 * relative);
    // ptukey is good to about 1e-7 of p near the middle and 1e-9 of one in the tail.
    expect(Math.abs(pair.p! - p)).toBeLessThan(100 * relative * p + 1e-8);
  }
  expect(methodText).toContain("degrees of freedom of its own");
}

describe("levels of a mixed fit", () => {
  test("whole-plot and sub-plot levels of a balanced split plot are judged on their own strata, as by R", () => {
    for (const factor of ["variety", "nitrogen"] as const) {
      expectAsByR(oats(), byR.oats[factor], "satterthwaite", 1e-6);
      expectAsByR(oats({ smallSample: "kenward-roger" }), byR.oats[factor], "kenwardRoger", 1e-6);
    }
  });

  test("standard errors equal those by hand from the mean squares of the strata", () => {
    const fit = oats();
    for (const [factor, df] of [
      ["variety", 10],
      ["nitrogen", 51],
    ] as const)
      for (const pair of compareLevels(fit, { factor }).pairs) {
        expect(pair.standardError! / byR.oats.byHand[factor]).toBeCloseTo(1, 9);
        expect(pair.df).toBeCloseTo(df, 6);
      }
  });

  test("pairs of unbalanced runs nested in three each have their own degrees of freedom, as by R", () => {
    expectAsByR(nested(), byR.nested.coolant, "satterthwaite", 1e-5);
    expectAsByR(nested({ smallSample: "kenward-roger" }), byR.nested.coolant, "kenwardRoger", 1e-5);
    const dfs = compareLevels(nested()).pairs.map(({ df }) => df);
    expect(new Set(dfs).size).toBe(3);
  });

  test("the interval of a pair is the studentised range on its own degrees of freedom", () => {
    // R 4.2: qtukey(0.95, 3, 10) / sqrt(2) is 2.741295; standard error 7.078904.
    const [pair] = compareLevels(oats(), { factor: "variety" }).pairs;
    if (!isInterval(pair.value)) throw new Error(pair.value.reason);
    expect((pair.value.high - pair.value.low) / 2).toBeCloseTo(2.741295 * 7.078904, 4);
  });

  test("are told as alike within a margin on their own degrees of freedom", () => {
    // 12.17 ± t(1 − 0.05/3, 10) × 7.079, R 4.2: qt(1 - 0.05/3, 10) is 2.465983.
    const { pairs } = equivalence(oats(), { factor: "variety", margin: 40 });
    const pair = pairs.find(({ to, from }) => from === "Victory" && to === "Marvellous")!;
    if (!isInterval(pair.value)) throw new Error(pair.value.reason);
    expect(pair.value.high).toBeCloseTo(12.1666667 + 2.465983 * 7.078904, 3);
    expect(pair.verdict).toBe("within");
  });

  test("are not judged by the raw scatter of a level nor by ranks, which know nothing of the sources", () => {
    expect(compareLevels(nested()).scatter).toBeNull();
    expect(() => compareLevels(nested(), { by: "ranks" })).toThrow(/sources of scatter/);
    expect(() => compareLevels(nested(), { scatter: "unequal" })).toThrow(/sources of scatter/);
  });

  test("the mean of a level carries every source, on degrees of freedom of its own", () => {
    const fit = oats();
    const [block, plot, residual] = fit.variances.map(({ variance }) => variance);
    // Six blocks, in each one plot of the variety with four readings.
    const standardError = Math.sqrt((block + plot + residual / 4) / 6);
    const { df } = fit.contrast(fit.coefficients.map(({ label }) => meanMultiple(label)));
    const [{ mean }] = compareLevels(fit, { factor: "variety" }).levels;
    if (!isInterval(mean)) throw new Error(mean.reason);
    expect((mean.high - mean.low) / 2).toBeCloseTo(tQuantile(0.975, df) * standardError, 5);
    expect(df).toBeGreaterThan(5);
    expect(df).toBeLessThan(10);
  });

  test("a combination needs one multiple for each coefficient", () => {
    expect(() => oats().contrast([1, 0])).toThrow(/2 multiples/);
  });
});

/** The mean of the first variety: the levels of nitrogen evenly weighted, the columns of the other varieties zero. */
function meanMultiple(label: string): number {
  if (label === "intercept") return 1;
  return label.startsWith("nitrogen") ? 1 / 4 : 0;
}
