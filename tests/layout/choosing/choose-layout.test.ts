import { describe, expect, it, test } from "vitest";
import { chooseLayout, judge, layOut, precisionOver, type LayoutChoice } from "../../../src/layout/index.ts";
import { squared, termsOf } from "../../../src/model/index.ts";
import type { Factor } from "../../../src/trial/index.ts";
import { category, quantities } from "./factors.ts";

const recommended = (choice: LayoutChoice) =>
  choice.candidates.find(({ id }) => id === choice.recommended?.id);

describe("chooseLayout recommends what is common practice", () => {
  test("three factors in 8 passes: all corners", () => {
    const choice = chooseLayout({ factors: quantities(3), stake: "which-matter", passes: 8 });
    expect(choice.recommended?.id).toBe("factorial");
  });

  test("four factors in 12 passes: a half fraction of resolution IV with 4 centre runs", () => {
    const choice = chooseLayout({ factors: quantities(4), stake: "which-matter", passes: 12 });
    expect(recommended(choice)?.layout).toEqual({ kind: "fraction", runs: 8, centrePoints: 4, seed: 1 });
    expect(recommended(choice)?.figures.worstLeaning).toBe(0);
  });

  test("five factors in 16 passes: the half fraction of resolution V", () => {
    const choice = chooseLayout({ factors: quantities(5), stake: "which-matter", passes: 16 });
    expect(choice.recommended?.id).toBe("fraction-16");
    expect(recommended(choice)?.figures.products.told).toBe(10);
  });

  test("seven factors in 8 passes: the saturated fraction, with the warning that goes with it", () => {
    const choice = chooseLayout({ factors: quantities(7), stake: "which-matter", passes: 8 });
    const best = recommended(choice);
    expect(best?.layout).toMatchObject({ kind: "fraction", runs: 8 });
    expect(best?.answers).toBe("with-reservation");
    expect(best?.figures.worstLeaning).toBeCloseTo(1, 9);
    expect(choice.recommended?.reason).toContain("may be a product of two other factors");
    expect(choice.recommended?.reason).toContain("nothing is left for error");
    expect(choice.enough.toAnswerFully).toBe(16);
  });

  test("seven factors in 17 passes: definitive screening", () => {
    const choice = chooseLayout({ factors: quantities(7), stake: "which-matter", passes: 17 });
    expect(choice.recommended?.id).toBe("definitive-screening");
  });

  test("eleven factors in 12 passes: Plackett–Burman", () => {
    const choice = chooseLayout({ factors: quantities(11), stake: "which-matter", passes: 12 });
    expect(recommended(choice)?.layout.kind).toBe("plackett-burman");
  });

  test.each([9, 13])("the best setting of two factors in %i passes: three levels of each", (passes) => {
    const choice = chooseLayout({ factors: quantities(2), stake: "best-setting", passes });
    const best = recommended(choice);
    expect(["central-composite", "factorial"]).toContain(best?.layout.kind);
    expect(best?.runs).toBe(passes);
  });

  test("three categories of four levels in 16 passes: a Latin square or the array of the same runs", () => {
    const factors = [category("insert", 4), category("day", 4), category("place", 4)];
    const choice = chooseLayout({ factors, stake: "which-matter", passes: 16 });
    expect(choice.candidates.map(({ id }) => id)).toContain("latin-square");
    expect(["latin-square", "orthogonal-array"]).toContain(recommended(choice)?.layout.kind);
  });

  test("one quantity for its curve: a sweep, cut more than once", () => {
    const choice = chooseLayout({ factors: quantities(1), stake: "how-curved", passes: 9 });
    expect(recommended(choice)?.layout.kind).toBe("sweep");
    expect(recommended(choice)?.figures.dfPureError).toBeGreaterThan(0);
  });

  test("an edge that is hard to change: replicates in blocks, so that set-ups are repeated", () => {
    const factors = [...quantities(2), category("edge", 2, "hard")];
    const choice = chooseLayout({ factors, stake: "which-matter", passes: 32, sigma: 1, effect: 3 });
    const best = recommended(choice);
    expect(best?.answers).toBe("yes");
    expect(best?.cost.setUps).toBeGreaterThanOrEqual(6);
  });
});

describe("where set-ups scatter", () => {
  const factors = [...quantities(2), category("edge", 2, "hard")];
  const ask = (varianceRatio?: number) =>
    chooseLayout({ factors, stake: "how-they-combine", passes: 20, sigma: 1, effect: 2, varianceRatio });

  test("the ratio that is stated goes into the search, and nothing of it where none is", () => {
    const searched = (choice: LayoutChoice) =>
      choice.candidates.find(({ layout }) => layout.kind === "optimal");
    expect(searched(ask(4))?.layout["varianceRatio"]).toBe(4);
    expect(searched(ask())?.layout).not.toHaveProperty("varianceRatio");
  });

  test("the sentence on main effects gives the best and the least known one, as judge has them", () => {
    const choice = ask(4);
    const full = choice.candidates.find(({ id }) => id === "factorial-x2");
    if (!full) throw new Error("no full factorial");
    const widths = judge(layOut({ factors, layout: full.layout }).runs, factors, {
      model: "interactions",
      sigma: 1,
      varianceRatio: 4,
    })
      .terms.slice(0, 3)
      .map(({ halfWidth }) => Number(halfWidth));
    expect(full.figures.mainEffects.leastHalfWidthInSigma).toBeCloseTo(Math.min(...widths), 10);
    expect(full.figures.mainEffects.halfWidthInSigma).toBeCloseTo(Math.max(...widths), 10);
    expect(full.tells[0]).toMatch(
      /^Each main effect will be known to between ± [\d.]+ and ± \d+ \(95 %\); .* at worst\.$/,
    );
  });
});

/** The second road: the same layout through lay-out and judge, in the response's unit. */
describe("figures are those of judge on the layout", () => {
  const sigma = 0.5;
  const effect = 1;
  const questions: readonly (readonly [string, readonly Factor[], number])[] = [
    ["quantities", quantities(4), 12],
    ["quantities and a category", [...quantities(2), category("insert", 3)], 24],
    ["a hard factor", [...quantities(2), category("edge", 2, "hard")], 16],
  ];
  const worst = (values: readonly (number | null)[], pick: (...values: number[]) => number) =>
    values.includes(null) ? null : pick(...values.map(Number));
  const close = (found: number | null, wanted: number | null) => {
    if (wanted === null) expect(found).toBeNull();
    // Both are sums of a few dozen products: 10 digits leave room for the order of summing.
    else expect(found).toBeCloseTo(wanted, 10);
  };

  test.each(questions)("which matter, %s", (_name, factors, passes) => {
    const choice = chooseLayout({ factors, stake: "which-matter", passes, sigma, effect });
    expect(choice.candidates.length).toBeGreaterThan(1);
    for (const candidate of choice.candidates) {
      const { runs } = layOut({ factors, layout: candidate.layout });
      expect(runs).toHaveLength(candidate.runs);
      const judged = judge(runs, factors, { model: "main", sigma, effect });
      const { mainEffects, df, dfPureError } = candidate.figures;
      close(
        mainEffects.halfWidth,
        worst(
          judged.terms.map(({ halfWidth }) => halfWidth),
          Math.max,
        ),
      );
      close(
        mainEffects.chance,
        worst(
          judged.terms.map(({ power }) => power),
          Math.min,
        ),
      );
      expect([df, dfPureError]).toEqual([judged.df, judged.dfPureError]);
      const shares = judged.biases
        .filter(({ omitted }) => omitted.includes("×"))
        .map(({ share }) => Math.abs(share));
      if (mainEffects.told === mainEffects.of)
        expect(candidate.figures.worstLeaning).toBeCloseTo(Math.max(0, ...shares), 10);
    }
  });

  test("products, bends and predictions", () => {
    const factors = quantities(3);
    const combine = recommended(
      chooseLayout({ factors, stake: "how-they-combine", passes: 16, sigma, effect }),
    );
    const pairs = judge(layOut({ factors, layout: combine?.layout ?? { kind: "" } }).runs, factors, {
      model: "interactions",
      sigma,
      effect,
    }).terms.filter(({ term }) => Object.keys(term).length === 2);
    close(
      combine?.figures.products.halfWidth ?? null,
      Math.max(...pairs.map(({ halfWidth }) => Number(halfWidth))),
    );

    const curved = recommended(chooseLayout({ factors, stake: "how-curved", passes: 20, sigma, effect }));
    // A bend is the coefficient of the square, half of what judge calls its effect.
    const bends = judge(layOut({ factors, layout: curved?.layout ?? { kind: "" } }).runs, factors, {
      terms: [...termsOf("main", factors), ...factors.map(({ name }) => squared(name))],
      sigma,
      effect: 2 * effect,
    }).terms.filter(({ term }) => Object.values(term).includes(2));
    close(
      curved?.figures.squares.halfWidth ?? null,
      Math.max(...bends.map(({ halfWidth }) => Number(halfWidth) / 2)),
    );
    close(curved?.figures.squares.chance ?? null, Math.min(...bends.map(({ power }) => Number(power))));

    const best = recommended(chooseLayout({ factors, stake: "best-setting", passes: 20, sigma, effect }));
    const drawn = precisionOver(layOut({ factors, layout: best?.layout ?? { kind: "" } }).runs, factors, {
      model: "surface",
      points: 4000,
    });
    // Drawn at 4,000 settings: good to about 1/√4000 = 1.6 %; thrice that is allowed.
    const ratio = (best?.figures.prediction?.averageVariance ?? 0) / drawn.average;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.05);
  });

  test("a leaning is the share that the alias matrix gives: a third in Plackett–Burman of 12 runs", () => {
    const choice = chooseLayout({ factors: quantities(5), stake: "which-matter", passes: 12 });
    const burman = choice.candidates.find(({ id }) => id === "plackett-burman-12");
    expect(burman?.figures.worstLeaning).toBeCloseTo(1 / 3, 9); // Plackett and Burman 1946: ±1/3 for every pair
  });
});

describe("the choice as plain data", () => {
  it("is the same for the same question, and changes nothing it was given", () => {
    const question = Object.freeze({
      factors: Object.freeze(quantities(4)),
      stake: "best-setting" as const,
      passes: 22,
    });
    expect(JSON.parse(JSON.stringify(chooseLayout(question)))).toEqual(
      JSON.parse(JSON.stringify(chooseLayout(question))),
    );
  });

  it("names layouts over a stated limit with the reason, and counts cost", () => {
    const [feed, speed] = [
      {
        kind: "quantity",
        name: "feed",
        unit: "mm/rev",
        low: 0.1,
        high: 0.2,
        scale: "linear",
        change: "easy",
      },
      {
        kind: "quantity",
        name: "speed",
        unit: "m/min",
        low: 100,
        high: 200,
        scale: "linear",
        change: "easy",
      },
    ] as const;
    const choice = chooseLayout({
      factors: [feed, speed],
      stake: "which-matter",
      passes: 12,
      trial: {
        held: { depth: "0.1 mm" },
        cutter: { diameter: "80 mm" },
        pass: { length: "180 mm", width: "60 mm" },
        budget: { minutes: 45, minutesBetween: 4 },
      },
    });
    expect(choice.refused.length).toBeGreaterThan(0);
    for (const { reason } of choice.refused) expect(reason).toContain("45 minutes");
    for (const { cost, runs } of choice.candidates) {
      expect(cost.passes).toBe(runs);
      expect(cost.minutes).toBeLessThanOrEqual(45);
      expect(cost.stockMm).toBeCloseTo(0.1 * runs, 9);
    }
  });

  it("refuses numbers that can't be, by name", () => {
    const factors = quantities(2);
    const ask = (more: object) => () => chooseLayout({ factors, stake: "which-matter", passes: 8, ...more });
    expect(ask({ passes: 0 })).toThrow("passes: 0; expected a whole number from 1 to 1,000.");
    expect(ask({ sigma: -1 })).toThrow("sigma: -1; expected the run-to-run standard deviation, above zero.");
    expect(ask({ sigma: { low: 2, high: 1 } })).toThrow(
      "sigma: from 2 to 1; expected the lower one first. Swap them.",
    );
    expect(ask({ effect: Number.NaN })).toThrow("effect: NaN; expected the smallest change worth knowing");
    expect(ask({ varianceRatio: -1 })).toThrow(
      "varianceRatio: -1; expected the variance between set-ups over that between runs, 0 or above.",
    );
    expect(ask({ stake: "all" })).toThrow('stake: "all" is no question that is known');
    expect(ask({ factors: [] })).toThrow(
      "factors: 0 given; a layout is chosen for 1 to 12. Name at least one.",
    );
    expect(ask({ confidence: 95 })).toThrow("confidence: 95; expected a number above 0.5 and below 1");
  });
});
