import { describe, expect, test } from "vitest";
import {
  compareLevels,
  fitLinear,
  isInterval,
  main,
  times,
  type Comparison,
} from "../../../src/model/index.ts";
import { comparisonsByR, tableOf } from "./by-r.ts";

const byR = comparisonsByR();

function pairOf(comparison: Comparison, from: string, to: string) {
  const straight = comparison.pairs.find((pair) => pair.from === from && pair.to === to);
  const turned = comparison.pairs.find((pair) => pair.from === to && pair.to === from);
  const pair = (straight ?? turned)!;
  const sign = straight ? 1 : -1;
  const value = pair.value;
  if (!isInterval(value)) throw new Error(value.reason);
  const [low, high] = sign === 1 ? [value.low, value.high] : [-value.high, -value.low];
  return { difference: sign * value.estimate, low, high, p: pair.p! };
}

/** Sizes of the data are of order 1 to 1000; agreement is relative to the width of the interval. */
function expectPair(
  found: ReturnType<typeof pairOf>,
  wanted: { difference: number; low: number; high: number; p: number },
  digits: { readonly ends: number; readonly p: number },
) {
  const width = wanted.high - wanted.low;
  for (const key of ["difference", "low", "high"] as const)
    expect(Math.abs(found[key] - wanted[key]) / width, key).toBeLessThan(digits.ends);
  expect(Math.abs(found.p - wanted.p)).toBeLessThan(digits.p * wanted.p + 1e-9);
}

describe("every pair and a control agree with base R", () => {
  for (const set of byR.oneWay) {
    const observations = tableOf({ group: set.group }, set.value);
    test(`every pair by the studentised range: ${set.name}`, () => {
      const comparison = compareLevels(observations);
      expect(comparison.pairs).toHaveLength(set.tukey.length);
      // TukeyHSD: ptukey is good to about 1e-7 of p, qtukey to 1e-5 (its own search stops there).
      for (const wanted of set.tukey)
        expectPair(pairOf(comparison, wanted.from, wanted.to), wanted, { ends: 2e-4, p: 2e-5 });
    });
    test(`each with a control, unequal numbers too: ${set.name}`, () => {
      const comparison = compareLevels(observations, { control: set.control });
      for (const wanted of set.dunnett) {
        const pair = comparison.pairs.find(({ from, to }) => from === wanted.from && to === wanted.to)!;
        expect(pair.value.estimate).toBeCloseTo(wanted.difference, 9);
        // The quadrature in R is good to 1e-10 of one, so small p have few digits there.
        expect(Math.abs(pair.p! - wanted.p)).toBeLessThan(1e-8);
        // The interval leaves out no difference exactly where p is below 0.05.
        if (!isInterval(pair.value)) throw new Error(pair.value.reason);
        expect(pair.value.low > 0 || pair.value.high < 0).toBe(pair.p! < 0.05);
      }
    });
    test(`Games and Howell, Welch, Holm, Kruskal and Wallis: ${set.name}`, () => {
      const unequal = compareLevels(observations, { scatter: "unequal" });
      for (const wanted of set.gamesHowell)
        expectPair(pairOf(unequal, wanted.from, wanted.to), wanted, { ends: 2e-4, p: 2e-4 });
      expect(unequal.overall!.statistic).toBeCloseTo(set.welch.statistic, 8);
      expect(unequal.overall!.dfScatter).toBeCloseTo(set.welch.df, 8);
      expect(unequal.overall!.p / set.welch.p).toBeCloseTo(1, 8);
      const holm = compareLevels(observations, { adjust: "holm" });
      for (const wanted of set.holm)
        expect(pairOf(holm, wanted.from, wanted.to).p / wanted.p).toBeCloseTo(1, 7);
      const ranks = compareLevels(observations, { by: "ranks" });
      expect(ranks.overall!.statistic).toBeCloseTo(set.kruskal.statistic, 8);
      expect(ranks.overall!.p / set.kruskal.p).toBeCloseTo(1, 8);
    });
    test(`whether the levels scatter alike: ${set.name}`, () => {
      const { scatter } = compareLevels(observations);
      expect(scatter!.byVariances!.statistic).toBeCloseTo(set.bartlett.statistic, 7);
      expect(scatter!.byVariances!.p / set.bartlett.p).toBeCloseTo(1, 6);
      expect(scatter!.byMedians!.f).toBeCloseTo(set.medians.f, 7);
      expect(scatter!.byMedians!.p / set.medians.p).toBeCloseTo(1, 7);
    });
  }

  test("beside another factor, balanced (warpbreaks)", () => {
    const { wool, tension, value, tukey } = byR.twoFactors;
    const comparison = compareLevels(tableOf({ wool, tension }, value), { factor: "tension" });
    expect(comparison.methodText).toMatch(/Tukey/u);
    for (const wanted of tukey)
      expectPair(pairOf(comparison, wanted.from, wanted.to), wanted, { ends: 2e-4, p: 2e-5 });
  });

  test("with blocks and other factors (npk)", () => {
    const { block, N, P, K, value, tukey } = byR.blocks;
    const comparison = compareLevels(tableOf({ N, P, K, block }, value, { block: "block" }), { factor: "N" });
    expectPair(pairOf(comparison, "0", "1"), tukey[0], { ends: 2e-4, p: 2e-5 });
  });

  test("where the model makes the differences vary unlike, by the sphere", () => {
    const { wool, tension, value, difference, standardError, reach, p, df } = byR.unbalanced;
    const comparison = compareLevels(fitLinear(tableOf({ wool, tension }, value)), { factor: "tension" });
    expect(comparison.pairs.map(({ from, to }) => `${from}${to}`)).toEqual(["LM", "LH", "MH"]);
    comparison.pairs.forEach((pair, i) => {
      expect(pair.value.estimate).toBeCloseTo(difference[i], 8);
      expect(pair.standardError).toBeCloseTo(standardError[i], 8);
      expect(pair.df).toBe(df);
      // A million draws: the standard error of p is at most 0.0005, that of the reach 0.003.
      expect(Math.abs(pair.p! - p[i])).toBeLessThan(0.002);
      if (!isInterval(pair.value)) throw new Error(pair.value.reason);
      const half = (pair.value.high - pair.value.low) / 2;
      expect(Math.abs(half / pair.standardError! - reach)).toBeLessThan(0.01);
    });
  });
});

describe("what is told", () => {
  const edges = ["fresh", "fresh", "fresh", "used", "used", "used", "worn", "worn", "worn"];
  const ra = [0.52, 0.55, 0.5, 0.61, 0.66, 0.63, 0.6, 0.62, 0.67];

  test("a difference is told with the level, the size, the interval and p to two digits", () => {
    const [first] = compareLevels(tableOf({ edge: edges }, ra)).pairs;
    // R 4.2, TukeyHSD: 0.110000, 0.036722 to 0.183278, p 0.0087387.
    expect(first.sentence).toBe(
      "With edge used, Ra is 0.11 µm higher than with fresh (95 % for all 3 pairs together: 0.04 to 0.18, p 0.0087).",
    );
  });

  test("no difference seen says what could have been missed", () => {
    const last = compareLevels(tableOf({ edge: edges }, ra)).pairs[2];
    expect(last.sentence).toBe(
      "No difference in Ra between edge worn and used was seen; one up to 0.08 µm could have been missed (95 % for all 3 pairs together: −0.08 to 0.07 µm, p 0.99).",
    );
  });

  test("on logarithms the pairs are ratios", () => {
    const comparison = compareLevels(tableOf({ edge: edges }, ra), { log: true, control: "fresh" });
    expect(comparison.pairs.map(({ as }) => as)).toEqual(["ratio", "ratio"]);
    // R 4.2: exp(mean(log(used)) - mean(log(fresh))).
    expect(comparison.pairs[0].value.estimate).toBeCloseTo(1.210485, 6);
    expect(comparison.pairs[0].sentence).toMatch(
      /^With edge used, Ra is 1\.21 times that with fresh \(95 %/u,
    );
  });

  test("unequal scatter that logarithms mend is offered as ratios, else as its own scatter", () => {
    const grows = compareLevels(tableOf({ edge: edges }, [1, 1.1, 0.9, 10, 11, 9, 100, 110, 90]));
    expect(grows.notes.join(" ")).toMatch(/don't scatter alike.*compare as ratios/u);
    const spray = byR.oneWay.find(({ name }) => name.startsWith("InsectSprays"))!;
    const counts = compareLevels(tableOf({ spray: spray.group }, spray.value));
    expect(counts.notes.join(" ")).toMatch(/Compare each level with its own scatter/u);
  });

  test("a level that depends on another factor is compared in its middle, and a note says so", () => {
    const { wool, tension, value } = byR.twoFactors;
    const fit = fitLinear(tableOf({ wool, tension }, value), {
      terms: [main("wool"), main("tension"), times("wool", "tension")],
    });
    const comparison = compareLevels(fit, { factor: "tension" });
    expect(comparison.notes.join(" ")).toMatch(/depends on wool/u);
    // Balanced: the plain difference of the level means.
    const mean = (level: string) => {
      const own = value.filter((_, i) => tension[i] === level);
      return own.reduce((sum, one) => sum + one, 0) / own.length;
    };
    expect(comparison.pairs[0].value.estimate).toBeCloseTo(mean("M") - mean("L"), 10);
  });
});

describe("what can't be told, and what is refused", () => {
  const pairs = ["fresh", "fresh", "used", "used"];

  test("runs without scatter give a reason and no interval", () => {
    const { pairs: found, levels } = compareLevels(tableOf({ edge: pairs }, [1, 1, 2, 2]));
    expect(found[0]).toMatchObject({ p: null, standardError: null });
    expect(found[0].sentence).toMatch(/can't be judged: .*no scatter to judge by/u);
    expect(isInterval(levels[0].mean)).toBe(false);
    const flat = compareLevels(tableOf({ edge: pairs }, [1, 1, 1, 1]), { scatter: "unequal" });
    expect(flat.pairs[0].sentence).toMatch(/read the same in every run/u);
  });

  test("one run a level leaves no scatter, and the fit's reason is given", () => {
    const { pairs: found } = compareLevels(tableOf({ edge: ["fresh", "used"] }, [1, 2]));
    expect(found[0].sentence).toMatch(/cut replicates/u);
  });

  test("a level that moved together with another factor can't be told", () => {
    const observations = tableOf({ edge: pairs, oil: ["a", "a", "b", "b"] }, [1, 2, 3, 5]);
    const byOil = compareLevels(observations, { factor: "oil" });
    expect(byOil.pairs[0].value.estimate).toBeNull();
    expect(byOil.pairs[0].sentence).toMatch(/can't be judged: .*moved together|edge/u);
  });

  test("three runs by ranks can't reach 95 %, and it is said how sure they can be", () => {
    const comparison = compareLevels(tableOf({ edge: ["a", "a", "a", "b", "b", "b"] }, [1, 2, 3, 4, 5, 6]), {
      by: "ranks",
    });
    // 2 of 20 orders are this far apart.
    expect(comparison.pairs[0].p).toBeCloseTo(0.1, 12);
    expect(comparison.pairs[0].sentence).toMatch(/at most 90 % confidence/u);
  });

  test.each([
    [{ control: "wron" }, /edge "wron" to compare with; expected one of fresh or used/u],
    [{ factor: "feed" }, /unknown factor "feed"/u],
    [{ by: "ranks", scatter: "unequal" }, /one or the other/u],
    [{ confidence: 1 }, /confidence/u],
  ] as const)("%j is refused in words", (options, words) => {
    expect(() => compareLevels(tableOf({ edge: pairs }, [1, 2, 3, 5]), options)).toThrow(words);
  });

  test("one level, one run of a level, and other factors beside ranks are refused in words", () => {
    expect(() => compareLevels(tableOf({ edge: ["a", "a"] }, [1, 2]))).toThrow(/edge with one level, a/u);
    expect(() =>
      compareLevels(tableOf({ edge: ["a", "a", "b"] }, [1, 2, 3]), { scatter: "unequal" }),
    ).toThrow(/one run of edge b/u);
    const two = tableOf({ edge: pairs, oil: ["a", "b", "a", "b"] }, [1, 2, 3, 5]);
    expect(() => compareLevels(two, { factor: "edge", by: "ranks" })).toThrow(
      /other factors, blocks or sources/u,
    );
    expect(() => compareLevels(fitLinear(two), { factor: "edge", log: true })).toThrow(/made already/u);
  });
});
