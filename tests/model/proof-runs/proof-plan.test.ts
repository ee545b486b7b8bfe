import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  passChance,
  proofPlan,
  proofVerdict,
  type ProofAsked,
  type ProofPlan,
} from "../../../src/model/index.ts";
import { binomialAbove, binomialAtMost } from "../../../src/model/proof-runs/binomial.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

const limit = { limit: 0.8, side: "at-most" as const, unit: "µm" };
const found = (asked: ProofAsked): ProofPlan => {
  const plan = proofPlan(asked);
  if (plan.outcome !== "found") throw new Error(plan.reason);
  return plan;
};

/** The binomial sum in whole numbers: of `parts`, each over with chance `over` in `of`. */
function exactAtMost(most: number, parts: number, over: bigint, of: bigint): number {
  let sum = 0n;
  let ways = 1n;
  for (let count = 0; count <= most; count += 1) {
    sum += ways * over ** BigInt(count) * (of - over) ** BigInt(parts - count);
    ways = (ways * BigInt(parts - count)) / BigInt(count + 1);
  }
  const scale = 10n ** 18n;
  return Number((sum * scale) / of ** BigInt(parts)) / 1e18;
}

describe("chances by counting", () => {
  test("are the exact binomial sums", () => {
    for (const [most, parts, over] of [
      [0, 59, 5n],
      [1, 22, 20n],
      [3, 77, 1n],
      [12, 300, 7n],
    ] as const) {
      const exact = exactAtMost(most, parts, over, 100n);
      // 18 decimals are kept above; the beta integral errs by about 1e-13 of its size.
      expect(Math.abs(binomialAtMost(most, parts, Number(over) / 100) - exact)).toBeLessThan(
        1e-17 + 1e-13 * exact,
      );
    }
  });

  test("of both sides add up to one, and small ones keep their digits", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (parts, over, share) => {
          const most = Math.floor(share * parts);
          expect(binomialAtMost(most, parts, over) + binomialAbove(most, parts, over)).toBeCloseTo(1, 12);
        },
      ),
      { seed: 20261125 },
    );
    // One part in 1000 over, both of two over: 10⁻⁶ to the last digit or two.
    expect(binomialAbove(1, 2, 0.001) / 1e-6).toBeCloseTo(1, 12);
  });
});

describe("a rule that counts parts", () => {
  test("of 59 parts without one over the limit shows 95 % of parts with 95 % assurance", () => {
    // The success run theorem, ln 0.05 / ln 0.95 = 58.4; the number from memory, verified by this quotient.
    expect(Math.ceil(Math.log(0.05) / Math.log(0.95))).toBe(59);
    const plan = found({ ...limit, rule: "parts", goodShare: 0.9999, badShare: 0.95 });
    expect(plan).toMatchObject({ runs: 59, criterion: { kind: "count", mostOver: 0 } });
    expect(plan.passBad).toBeCloseTo(0.95 ** 59, 14);
    expect(plan.failGood).toBeCloseTo(1 - 0.9999 ** 59, 14);
  });

  test("is the one of fewest parts: every rule of fewer parts breaks one of both chances", () => {
    for (const [goodShare, badShare, failGood, passBad] of [
      [0.99, 0.8, 0.05, 0.05],
      [0.98, 0.85, 0.1, 0.05],
      [0.95, 0.7, 0.05, 0.1],
    ] as const) {
      const plan = found({ ...limit, rule: "parts", goodShare, badShare, failGood, passBad });
      expect(plan.failGood).toBeLessThanOrEqual(failGood);
      expect(plan.passBad).toBeLessThanOrEqual(passBad);
      for (let runs = 1; runs < plan.runs; runs += 1) {
        for (let most = 0; most < runs; most += 1) {
          const fails = 1 - binomialAtMost(most, runs, 1 - goodShare);
          expect(fails > failGood || binomialAtMost(most, runs, 1 - badShare) > passBad).toBe(true);
        }
      }
    }
  });

  test("says the rule, both chances and why", () => {
    const plan = found({ ...limit, rule: "parts" });
    expect(plan.ruleText).toBe(
      "Cut 22 parts at the recipe's setting: it passes if at most 1 of them is above 0.8 µm, else it fails.",
    );
    expect(plan.chancesText).toBe(
      "A good recipe (99 % of parts within the limit) fails with chance 2 %; a bad one (80 % of parts within the limit) passes with chance 4.8 %.",
    );
    expect(plan.why).toBe(
      "Parts are counted: nothing is supposed about how they scatter, and a gauge that only says good or bad will do.",
    );
  });
});

describe("a rule by mean and scatter", () => {
  test("of ten parts passes 95 % of parts with chance 5 % at the tolerance factor 2.911", () => {
    // ISO 16269-6, one-sided factor for n = 10, coverage 0.95, confidence 0.95: 2.911.
    const plan: ProofPlan = {
      ...found({ ...limit, rule: "share" }),
      runs: 10,
      criterion: { kind: "distance", standardDeviations: 2.911 },
    };
    // Half a unit of the last printed digit of the factor moves the chance by 5·10⁻⁵.
    expect(passChance(plan, 0.95)).toBeCloseTo(0.05, 4);
  });

  test("passes a bad recipe no oftener than asked, with a distance as it is written down", () => {
    const plan = found({ ...limit, rule: "mean", goodMean: 0.7, sigma: 0.05 });
    expect(plan.passBad).toBeLessThanOrEqual(0.05);
    expect(plan.passBad).toBeGreaterThan(0.0499);
    if (plan.criterion.kind !== "distance") throw new Error("a distance was expected");
    expect(plan.ruleText).toContain(`at least ${plan.criterion.standardDeviations} times`);
    expect(passChance(plan, 0.7)).toBeCloseTo(1 - plan.failGood, 12);
    expect(passChance(plan, 0.8)).toBeCloseTo(plan.passBad, 12);
  });

  test("needs one part more than the largest number that is too few", () => {
    const plan = found({ ...limit, rule: "mean", goodMean: 0.75, sigma: 0.05 });
    const fewer = proofPlan({ ...limit, rule: "mean", goodMean: 0.75, sigma: 0.05, atMost: plan.runs - 1 });
    expect(fewer.outcome).toBe("none");
    expect(
      proofPlan({ ...limit, rule: "mean", goodMean: 0.75, sigma: 0.05, atMost: plan.runs }).outcome,
    ).toBe("found");
  });

  test("is the same on either side of the limit", () => {
    const below = found({ ...limit, rule: "mean", goodMean: 0.7, sigma: 0.05 });
    const above = found({ limit: 0.8, side: "at-least", rule: "mean", goodMean: 0.9, sigma: 0.05 });
    expect([above.runs, above.criterion]).toEqual([below.runs, below.criterion]);
    expect(above.failGood).toBeCloseTo(below.failGood, 10);
  });
});

describe("chances against simulated proof runs", () => {
  const trials = 8_000;
  // Four standard errors of a simulated share: one check in 15,000 would fail by chance.
  const near = (simulated: number, chance: number) =>
    Math.abs(simulated - chance) <= 4 * Math.sqrt((chance * (1 - chance)) / trials);
  const share = (plan: ProofPlan, part: () => number) => {
    let passed = 0;
    for (let trial = 0; trial < trials; trial += 1)
      if (proofVerdict(plan, Array.from({ length: plan.runs }, part)).outcome === "passed") passed += 1;
    return passed / trials;
  };

  test("hold for counting, for the mean and for a share, straight and on logarithms", () => {
    const random = seededRandom(20261125);
    const normal = (mean: number, sigma: number) => () => mean + sigma * random.normal();
    const counted = found({ ...limit, rule: "parts", goodShare: 0.97, badShare: 0.7 });
    for (const [truth, chance] of [
      [0.97, 1 - counted.failGood],
      [0.7, counted.passBad],
      [0.85, passChance(counted, 0.85)],
    ]) {
      const part = () => (random.next() < truth ? 0.5 : 0.9);
      expect(near(share(counted, part), chance)).toBe(true);
    }
    const mean = found({ ...limit, rule: "mean", goodMean: 0.72, sigma: 0.05 });
    expect(near(share(mean, normal(0.72, 0.05)), 1 - mean.failGood)).toBe(true);
    expect(near(share(mean, normal(0.8, 0.05)), mean.passBad)).toBe(true);
    const size = found({ ...limit, rule: "share", goodShare: 0.99, badShare: 0.75 });
    // 0.6745 standard deviations inside the limit are 75 % of parts, 2.3263 are 99 %.
    expect(near(share(size, normal(0.8 - 0.67449 * 0.1, 0.1)), size.passBad)).toBe(true);
    expect(near(share(size, normal(0.8 - 2.32635 * 0.1, 0.1)), 1 - size.failGood)).toBe(true);
    const logs = found({ ...limit, rule: "mean", goodMean: 0.7, sigma: 0.1, log: true });
    const skewed = (median: number) => () => median * Math.exp(0.1 * random.normal());
    expect(near(share(logs, skewed(0.7)), 1 - logs.failGood)).toBe(true);
    expect(near(share(logs, skewed(0.8)), logs.passBad)).toBe(true);
  });
});

describe("a verdict", () => {
  test("comes by the plan's rule alone, fails early only by counting, and waits for all runs", () => {
    const plan = found({ ...limit, rule: "parts", goodShare: 0.99, badShare: 0.5 });
    expect(plan).toMatchObject({ runs: 5, criterion: { mostOver: 0 } });
    expect(proofVerdict(plan, [0.7, 0.9]).text).toBe("Failed: 1 of 2 parts is outside 0.8 µm, and 0 may be.");
    expect(proofVerdict(plan, [0.7, 0.8]).text).toBe(
      "Open: 3 of 5 proof runs are still to be cut; 0 of 2 parts are outside 0.8 µm, and 0 may be.",
    );
    expect(proofVerdict(plan, [0.7, 0.8, 0.6, 0.7, 0.7]).outcome).toBe("passed");
  });

  test("on logarithms is said as geometric mean and scatter factor, and a calculator comes to the same (any readings)", () => {
    const plans = [
      found({ ...limit, rule: "share", log: true }),
      found({ ...limit, side: "at-least", rule: "share", log: true }),
      found({ ...limit, rule: "mean", goodMean: 0.6, sigma: 0.2, log: true }),
    ];
    for (const plan of plans) {
      const power = plan.criterion.kind === "distance" ? plan.criterion.standardDeviations : NaN;
      const isUpper = plan.side === "at-most";
      expect(plan.ruleText).toBe(
        `Cut ${plan.runs} parts at the recipe's setting: it passes if their geometric mean, ${isUpper ? "times" : "divided by"} their scatter factor to the power ${power}, is ${isUpper ? "at most" : "at least"} 0.8 µm, else it fails. On a pocket calculator: take ln of each part's reading; e to the mean of these is the geometric mean, and e to their standard deviation (divided by ${plan.runs - 1}, not ${plan.runs}) is the scatter factor.`,
      );
      expect(plan.why).not.toContain("logarithm");
      fc.assert(
        fc.property(
          fc.array(fc.double({ min: 0.3, max: 1.4, noNaN: true }), {
            minLength: plan.runs,
            maxLength: plan.runs,
          }),
          (readings) => {
            // The second road: a root of the product, and the ratio of each reading to it.
            const geometricMean = readings.reduce((product, one) => product * one, 1) ** (1 / plan.runs);
            const squares = readings.reduce((sum, one) => sum + Math.log(one / geometricMean) ** 2, 0);
            const factor = Math.exp(Math.sqrt(squares / (plan.runs - 1))) ** power;
            const shown = isUpper ? geometricMean * factor : geometricMean / factor;
            fc.pre(Math.abs(shown - 0.8) > 1e-9); // On the limit itself the last digit decides.
            const verdict = proofVerdict(plan, readings);
            expect(verdict.outcome).toBe(isUpper === shown < 0.8 ? "passed" : "failed");
            expect(verdict.text).toContain(
              `the geometric mean is ${Number(geometricMean.toPrecision(4))} µm; `,
            );
            expect(verdict.text).toContain(`that is ${Number(shown.toPrecision(4))} µm, and `);
          },
        ),
        { seed: 20261201, numRuns: 50 },
      );
    }
  });

  test("is refused for more runs than the rule was decided for", () => {
    const plan = found({ ...limit, rule: "mean", goodMean: 0.6, sigma: 0.05 });
    expect(() => proofVerdict(plan, new Array<number>(plan.runs + 1).fill(0.7))).toThrow(
      "A rule that is stretched after looking no longer has the chances that were stated",
    );
    expect(() => proofVerdict(plan, [NaN])).toThrow("proof run 1: NaN; expected a finite number.");
  });
});

describe("proof runs that can't be had", () => {
  test("are an answer that says what the most runs would do and what would work", () => {
    const plan = proofPlan({ ...limit, rule: "mean", goodMean: 0.79, sigma: 0.08 });
    expect(plan).toMatchObject({ outcome: "none", atMost: 100 });
    if (plan.outcome === "none") {
      expect(plan.reason).toMatch(
        /^100 proof runs that pass a bad recipe \(true mean 0.8 µm, scatter 0.08 µm\) no oftener than 5 % would fail a good one .* Move the recipe further inside the limit, bear larger chances, or cut more\.$/,
      );
    }
  });

  test("are refused where the question makes no sense, with what was expected", () => {
    const mean = { ...limit, rule: "mean" as const, sigma: 0.05 };
    expect(() => proofPlan({ ...mean, goodMean: 0.85 })).toThrow(
      "a good mean of 0.85 and a bad one of 0.8, with a limit from above; expected a good mean below the bad one. Move the recipe further inside the limit.",
    );
    expect(() => proofPlan({ ...mean, goodMean: 0.7, sigma: 0 })).toThrow(
      "a scatter of 0; expected the standard deviation from part to part, above zero.",
    );
    expect(() => proofPlan({ ...mean, goodMean: NaN })).toThrow("a true mean of NaN");
    expect(() => proofPlan({ ...limit, rule: "parts", goodShare: 0.8, badShare: 0.9 })).toThrow(
      "expected a good share above the bad one",
    );
    expect(() => proofPlan({ ...limit, rule: "parts", failGood: 0 })).toThrow(
      "a chance of 0 to fail a good recipe; expected a number between 0 and 0.5, such as 0.05.",
    );
    expect(() => proofPlan({ ...limit, rule: "share", atMost: 1e9 })).toThrow(
      "expected a whole number from 2 to 1000",
    );
  });

  test("a scatter of almost nothing needs two runs and gives no NaN", () => {
    const plan = found({ ...limit, rule: "mean", goodMean: 0.1, sigma: 1e-9 });
    expect(plan.runs).toBe(2);
    expect(plan.failGood).toBeGreaterThanOrEqual(0);
    expect(plan.failGood).toBeLessThan(0.05);
  });
});
