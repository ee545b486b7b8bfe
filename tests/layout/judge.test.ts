import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import { leastSquares, seededRandom, tQuantile } from "../../src/numerics/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed, speed } from "./factors.ts";

const twoByThree = layOut({ factors: coded(3), layout: { kind: "factorial", replicates: 2, seed: 2 } });

describe("judging a two-level factorial", () => {
  const judged = judge(twoByThree.runs, coded(3), { model: "interactions", sigma: 1, effect: 2 });

  test("gives the standard errors of a balanced layout, σ/√n", () => {
    for (const term of judged.terms) expect(term.standardError).toBeCloseTo(0.25, 14);
    expect(judged.df).toBe(9);
    expect(judged.dfPureError).toBe(8);
    expect(judged.efficiency.D).toBeCloseTo(1, 12);
    expect(judged.efficiency.I).toBeCloseTo(1, 12);
    expect(judged.efficiency.A).toBeCloseTo(1, 12);
  });

  test("gives half-widths of effects by t on the degrees of freedom left", () => {
    for (const term of judged.terms) expect(term.halfWidth).toBeCloseTo(tQuantile(0.975, 9) * 0.5, 12);
  });

  test("splits what is left for error into replicates and lack of fit", () => {
    expect([judged.df, judged.dfPureError, judged.dfLackOfFit]).toEqual([9, 8, 1]);
  });

  test("inflates no variance where terms are at right angles", () => {
    for (const term of judged.terms) expect(term.varianceInflation).toBeCloseTo(1, 12);
  });

  test("finds no term that moves with another", () => {
    for (const term of judged.terms) expect(term.worstCorrelation).toBe(0);
  });
});

describe("power", () => {
  // Two groups of 8 and of 20, two-sided 5 %, difference = σ: 0.461176 and 0.868953, computed with R's power.t.test.
  test.each([
    [8, 0.461176],
    [20, 0.868953],
  ])("of two groups of %i to see a difference of one σ agrees with R", (each, power) => {
    const [factor] = coded(1);
    if (!factor) throw new Error("no factor");
    const { runs } = layOut({ factors: [factor], layout: { kind: "factorial", replicates: each } });
    const [term] = judge(runs, [factor], { model: "main", sigma: 1, effect: 1 }).terms;
    expect(term?.power).toBeCloseTo(power, 6); // half a unit of the sixth figure
  });

  test("and coverage agree with 20,000 simulated trials to three Monte Carlo errors", () => {
    const judged = judge(twoByThree.runs, coded(3), {
      model: "main",
      sigma: 1,
      effect: 1.2,
      confidence: 0.9,
    });
    const term = judged.terms[0];
    const random = seededRandom(20261125);
    const columns = [
      { high: new Float64Array(16).fill(1) },
      ...coded(3).map((factor) => ({
        high: Float64Array.from(twoByThree.runs, (run) => Number(run.settings[factor.name])),
      })),
    ];
    const trials = 20_000;
    let seen = 0;
    let covered = 0;
    let width = 0;
    const solve = leastSquares(columns, new Float64Array(16));
    const share = solve.inverseCross[1 * 4 + 1] ?? 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const response = Float64Array.from(
        { length: 16 },
        (_, row) => 0.6 * (columns[1]?.high[row] ?? 0) + random.normal(),
      );
      // Orthogonal columns: the coefficients are plain means of products.
      const coefficients = columns.map(
        ({ high }) => high.reduce((sum, value, row) => sum + value * (response[row] ?? 0), 0) / 16,
      );
      const squares = response.reduce((sum, value, row) => {
        const fitted = coefficients.reduce(
          (total, coefficient, place) => total + coefficient * (columns[place]?.high[row] ?? 0),
          0,
        );
        return sum + (value - fitted) ** 2;
      }, 0);
      const half = tQuantile(0.95, 12) * 2 * Math.sqrt((squares / 12) * share);
      const effect = 2 * (coefficients[1] ?? 0);
      if (effect > half) seen += 1;
      if (Math.abs(effect - 1.2) < half) covered += 1;
      width += half;
    }
    const error = (p: number) => 3 * Math.sqrt((p * (1 - p)) / trials);
    const power = term?.power ?? 0;
    expect(Math.abs(seen / trials - power)).toBeLessThan(error(power));
    expect(Math.abs(covered / trials - 0.9)).toBeLessThan(error(0.9));
    // The mean of s is σ·c₄; c₄(12 df) = 0.97941, from the gamma function.
    expect(width / trials / 0.97941 / (term?.halfWidth ?? 0)).toBeCloseTo(1, 2);
  });
});

describe("judging categories", () => {
  test("compares each level with the first", () => {
    const { runs } = layOut({ factors: [coolant, feed], layout: { kind: "factorial", replicates: 2 } });
    const judged = judge(runs, [coolant, feed], { model: "main", sigma: 1 });
    expect(judged.terms.map((term) => term.term)).toEqual([
      { "coolant=mist": 1 },
      { "coolant=flood": 1 },
      { feed: 1 },
    ]);
    // Means of 4 against 4 runs: the effect's standard error is √(1/4 + 1/4), the coefficient's half of it.
    expect(judged.terms[0]?.standardError).toBeCloseTo(Math.sqrt(0.5) / 2, 14);
    expect(judged.efficiency.D).toBeCloseTo(1, 12);
  });
});

describe("what can't be told", () => {
  test("factors that moved together are named, with no number for either", () => {
    const runs = [
      { feed: 0.08, speed: 800 },
      { feed: 0.24, speed: 1250 },
      { feed: 0.08, speed: 800 },
      { feed: 0.24, speed: 1250 },
    ].map((settings) => ({ block: 1, settings }));
    const judged = judge(runs, [feed, speed], { model: "main", sigma: 0.05, effect: 0.1 });
    expect(judged.terms.map((term) => term.standardError)).toEqual([null, null]);
    expect(judged.inseparable.map((set) => set.text)).toEqual([
      "speed can't be told from feed: they move together in every run.",
    ]);
    expect(judged.efficiency).toEqual({ D: 0, I: 0, A: 0, G: 0 });
  });

  test("a factor cut in rising order moves with time, and the sentence says so", () => {
    const { runs } = layOut({ factors: [feed], layout: { kind: "sweep", order: "as-listed" } });
    const judged = judge(runs, [feed], { model: "main", sigma: 0.05, unit: "µm" });
    expect(judged.terms[0]?.correlationWithOrder).toBeCloseTo(1, 12);
    expect(judged.sentences).toContain(
      "feed moves with cutting order (correlation 1.00): steady wear or warm-up would look like an effect of it.",
    );
  });
});

test("the sentences give width, chance and error in the response's unit", () => {
  const { runs } = layOut({
    factors: [feed, edge],
    layout: { kind: "factorial", replicates: 4, order: "drift-proof" },
  });
  expect(
    judge(runs, [feed, edge], { model: "main", sigma: 0.05, effect: 0.1, unit: "µm" }).sentences,
  ).toEqual([
    "With σ = 0.05 µm each effect of feed and edge used against fresh will be known to ± 0.054 µm (95 %); an effect of 0.1 µm is seen with chance 0.96.",
    "No single run is missed much: without any one of them no standard error grows by 5 %.",
    "13 degrees of freedom are left for error, 12 of them from replicates.",
  ]);
});

test("two factors that correlate by r inflate each other's variance by 1/(1 − r²)", () => {
  // Six of eight runs at like signs: r = 0.5 for balanced columns of eight with Σ xy = 4.
  const pairs = [
    [-1, -1],
    [-1, -1],
    [-1, -1],
    [-1, 1],
    [1, 1],
    [1, 1],
    [1, 1],
    [1, -1],
  ];
  const runs = pairs.map(([a = 0, b = 0]) => ({ block: 1, settings: { A: a, B: b } }));
  const [first] = judge(runs, coded(2), { model: "main", sigma: 1 }).terms;
  expect(first?.worstCorrelation).toBeCloseTo(0.5, 14);
  expect(first?.varianceInflation).toBeCloseTo(1 / (1 - 0.25), 12);
});

test("the order of the runs changes no standard error", () => {
  const factors = [feed, speed, coolant];
  const { runs } = layOut({ factors, layout: { kind: "factorial", levels: 3 } });
  const before = judge(runs, factors, { model: "surface", sigma: 1 });
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 10_000 }), (seed) => {
      const shuffled = seededRandom(seed).shuffle(runs);
      const after = judge(shuffled, factors, { model: "surface", sigma: 1 });
      after.terms.forEach((term, index) => {
        expect(term.standardError).toBeCloseTo(before.terms[index]?.standardError ?? 0, 12);
      });
    }),
    { seed: 20261125, numRuns: 10 },
  );
});

test("a σ or an effect that is not above zero is refused", () => {
  expect(() => judge(twoByThree.runs, coded(3), { sigma: 0 })).toThrow(
    "judge: sigma is 0; expected the run-to-run standard deviation, above zero.",
  );
  expect(() => judge(twoByThree.runs, coded(3), { sigma: 1, effect: Number.NaN })).toThrow(
    "judge: effect is NaN; expected the smallest change worth seeing, above zero.",
  );
});

describe("factors that are hard to change", () => {
  test("are judged by the scatter between set-ups, which the judgement says with its degrees of freedom", () => {
    const factors: readonly Factor[] = [
      { kind: "category", name: "edge", levels: ["fresh", "used"], change: "hard" },
      {
        kind: "quantity",
        name: "feed",
        unit: "mm/rev",
        low: 0.1,
        high: 0.2,
        scale: "linear",
        change: "easy",
      },
    ];
    const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 2 } });
    const { sentences } = judge(runs, factors, { sigma: 1 });
    expect(sentences).toContain(
      "edge is hard to change: 4 set-ups (whole plots) for 8 runs, and a set-up is taken to scatter as much as a run (variance ratio 1).",
    );
    expect(sentences).toContain(
      "Judged are edge used against fresh by the scatter between set-ups (2 degrees of freedom), feed by that between runs of a set-up (3 degrees of freedom).",
    );
  });
});
