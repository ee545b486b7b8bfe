import { describe, expect, test } from "vitest";
import { errorStrata, halfWidthsAt, judge, layOut } from "../../src/layout/index.ts";
import { nonCentralFTail, fQuantile, seededRandom, tQuantile } from "../../src/numerics/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, coolant } from "./factors.ts";

type Matrix = readonly (readonly number[])[];

const product = (a: Matrix, b: Matrix): Matrix =>
  a.map((row) =>
    (b[0] ?? []).map((_, j) => row.reduce((sum, value, k) => sum + value * (b[k]?.[j] ?? 0), 0)),
  );
const transposed = (a: Matrix): Matrix => (a[0] ?? []).map((_, j) => a.map((row) => row[j] ?? 0));

/** Gauss–Jordan with the largest pivot: plain and slow. */
function inverse(a: Matrix): Matrix {
  const size = a.length;
  const rows = a.map((row, i) => [...row, ...a.map((_, j) => (i === j ? 1 : 0))]);
  for (let at = 0; at < size; at += 1) {
    let best = at;
    for (let row = at; row < size; row += 1)
      if (Math.abs(rows[row]?.[at] ?? 0) > Math.abs(rows[best]?.[at] ?? 0)) best = row;
    const [one, other] = [rows[at] ?? [], rows[best] ?? []];
    rows[at] = other;
    rows[best] = one;
    const pivot = rows[at]?.[at] ?? 1;
    rows[at] = (rows[at] ?? []).map((value) => value / pivot);
    for (let row = 0; row < size; row += 1) {
      if (row === at) continue;
      const share = rows[row]?.[at] ?? 0;
      rows[row] = (rows[row] ?? []).map((value, j) => value - share * (rows[at]?.[j] ?? 0));
    }
  }
  return rows.map((row) => row.slice(size));
}

/** 14 runs in 5 whole plots of 2 to 4 runs, A hard, B and C easy and off balance; seed 14. */
function unbalanced() {
  const factors: readonly Factor[] = coded(3).map((factor, place) =>
    place === 0 ? { ...factor, change: "hard" as const } : factor,
  );
  const random = seededRandom(14);
  const runs = [3, 2, 4, 3, 2].flatMap((size, plot) =>
    Array.from({ length: size }, () => ({
      block: 1,
      wholePlot: plot + 1,
      settings: { A: plot % 2 === 0 ? 1 : -1, B: 2 * random.next() - 1, C: random.next() < 0.5 ? -1 : 1 },
    })),
  );
  return { factors, runs };
}

function dense(runs: ReturnType<typeof unbalanced>["runs"], ratio: number) {
  const x = runs.map(({ settings: { A, B, C } }) => [1, A, B, C]);
  const z = runs.map((one) => runs.map((other) => (one.wholePlot === other.wholePlot ? 1 : 0)));
  const v = z.map((row, i) => row.map((value, j) => ratio * value + (i === j ? 1 : 0)));
  const vInverse = inverse(v);
  const covariance = inverse(product(product(transposed(x), vInverse), x));
  return { x, z, vInverse, covariance };
}

/** Sums of some tens of products of doubles: a thousand times the rounding of one. */
const DIGITS = 11;

describe("judging runs that share set-ups agrees with dense generalised least squares", () => {
  const { factors, runs } = unbalanced();
  const ratio = 2.5;
  const judged = judge(runs, factors, {
    sigma: 1,
    varianceRatio: ratio,
    omitted: [{ A: 1, B: 1 }],
    effect: 2,
  });
  const { x, z, vInverse, covariance } = dense(runs, ratio);

  test("in every standard error", () => {
    judged.terms.forEach(({ standardError }, place) => {
      expect(standardError).toBeCloseTo(Math.sqrt(covariance[place + 1]?.[place + 1] ?? 0), DIGITS);
    });
  });

  test("in the bias by an omitted product", () => {
    const omitted = runs.map(({ settings }) => [settings.A * settings.B]);
    const alias = product(product(product(covariance, transposed(x)), vInverse), omitted);
    for (const { label, share, shift } of judged.biases) {
      const wanted = alias[["mean", "A", "B", "C"].indexOf(label)]?.[0] ?? 0;
      expect(share).toBeCloseTo(wanted, DIGITS);
      expect(shift).toBeCloseTo(2 * wanted, DIGITS);
    }
    expect(judged.biases).toHaveLength(3);
  });

  test("in what the loss of each run costs, found by leaving it out", () => {
    judged.losses.forEach((loss, place) => {
      const rest = dense(
        runs.filter((_, row) => row !== place),
        ratio,
      ).covariance;
      const growths = [1, 2, 3].map((term) =>
        Math.sqrt((rest[term]?.[term] ?? 0) / (covariance[term]?.[term] ?? 1)),
      );
      expect(loss.growth).toBeCloseTo(Math.max(...growths), 9);
      expect(loss.label).toBe("ABC"[growths.indexOf(Math.max(...growths))]);
    });
    expect(judged.worstLoss?.growth).toBe(Math.max(...judged.losses.map(({ growth }) => growth)));
  });

  test("in the degrees of freedom of a term that is compared in both strata, by dense traces", () => {
    // P = V⁻¹ − V⁻¹X(X′V⁻¹X)⁻¹X′V⁻¹; REML information ½·tr(P·Vᵢ·P·Vⱼ).
    const vx = product(vInverse, x);
    const hat = product(product(vx, covariance), transposed(vx));
    const p = vInverse.map((row, i) => row.map((value, j) => value - (hat[i]?.[j] ?? 0)));
    const identity = runs.map((_, i) => runs.map((_unused, j) => (i === j ? 1 : 0)));
    const parts = [z, identity].map((part) => product(p, part));
    const trace = (a: Matrix) => a.reduce((sum, row, i) => sum + (row[i] ?? 0), 0);
    const information = parts.map((one) => parts.map((other) => trace(product(one, other)) / 2));
    const spread = inverse(information);
    const slopes = [z, identity].map((part) => {
      const middle = product(product(transposed(vx), part), vx);
      const all = product(product(covariance, middle), covariance);
      return all[2]?.[2] ?? 0;
    });
    const variance = covariance[2]?.[2] ?? 0;
    const denominator = slopes.reduce(
      (sum, one, i) => sum + slopes.reduce((own, other, j) => own + one * other * (spread[i]?.[j] ?? 0), 0),
      0,
    );
    const term = judged.terms[1];
    expect(term?.stratum).toBe("both");
    expect(term?.df).toBeCloseTo((2 * variance ** 2) / denominator, 8);
  });
});

describe("a balanced split plot", () => {
  const factors: readonly Factor[] = coded(3).map((factor, place) =>
    place === 0 ? { ...factor, change: "hard" as const } : factor,
  );
  const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 3 } });

  test("has the textbook variances: 4/W·(ratio + 1/m) between set-ups, 4/n within", () => {
    const judged = judge(runs, factors, { model: "interactions", sigma: 0.7, varianceRatio: 2 });
    const effect = (label: string) =>
      2 * (judged.terms.find((term) => term.label === label)?.standardError ?? 0);
    expect(effect("A")).toBeCloseTo(0.7 * Math.sqrt((4 / 6) * (2 + 1 / 4)), 12);
    for (const label of ["B", "C", "A × B", "A × C", "B × C"])
      expect(effect(label)).toBeCloseTo(0.7 * Math.sqrt(4 / 24), 12);
  });

  test("tests A with 4 degrees of freedom and the rest with those of the runs, which add up", () => {
    const { strata, terms } = errorStrata(runs, factors, { model: "interactions" });
    expect(terms.map(({ label, stratum, df }) => [label, stratum, df])).toEqual([
      ["A", "whole plots", 4],
      ...["B", "C", "A × B", "A × C", "B × C"].map((label) => [label, "runs", 13]),
    ]);
    expect(strata.map(({ df, dfTerms, dfError }) => [df, dfTerms, dfError])).toEqual([
      [5, 1, 4],
      [18, 5, 13],
    ]);
    expect(strata[0]?.expectedErrorMeanSquare).toBe(5);
  });

  test("is judged as if every run were set up anew where set-ups add no scatter", () => {
    const easy = judge(runs, coded(3), { sigma: 1 });
    const none = judge(runs, factors, { sigma: 1, varianceRatio: 0 });
    expect(none.terms.map(({ standardError, df }) => [standardError, df])).toEqual(
      easy.terms.map(({ standardError, df }) => [standardError, df]),
    );
    expect(none.sentences).toContain(
      "A is hard to change, but set-ups are taken to add no scatter of their own (variance ratio 0): if they do, these figures promise too much for it.",
    );
  });

  // R 4.2, tests/fixtures/split-plot/gls.R: plain algebra, and pt() with a noncentrality (good to about 1e-9).
  test("agrees with R in standard errors and power", () => {
    const judged = judge(runs, factors, { sigma: 1, varianceRatio: 1, effect: 2 });
    expect(judged.terms[0]?.standardError).toBeCloseTo(0.456435464588, 11);
    expect(judged.terms[1]?.standardError).toBeCloseTo(0.204124145232, 11);
    expect(judged.terms[0]?.power).toBeCloseTo(0.388543635587, 8);
    expect(judged.terms[1]?.power).toBeCloseTo(0.995706698109, 8);
  });
});

describe("the F test of a category with three levels", () => {
  test("has the power of the noncentral F in the case hardest to see", () => {
    const factors: readonly Factor[] = [coolant];
    const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 5 } });
    const [set] = judge(runs, factors, { sigma: 1, effect: 1.5 }).sets;
    // Means +d/2, −d/2 and 0 over 5 runs each: Σ n·(μ − μ̄)²/σ² = 5·d²/2.
    const shift = (5 * 1.5 ** 2) / 2;
    expect(set).toMatchObject({ label: "coolant, 3 levels", df: 2, dfError: 12 });
    expect(set?.power).toBeCloseTo(nonCentralFTail(fQuantile(0.95, 2, 12), 2, 12, shift), 10);
  });
});

test("a run that alone carries a term is named as one whose loss costs the term", () => {
  const factors = coded(1);
  const runs = [-1, -1, -1, 1].map((A) => ({ block: 1, settings: { A } }));
  const judged = judge(runs, factors, { sigma: 1 });
  expect(judged.worstLoss).toMatchObject({ run: 4, lost: ["A"] });
  expect(judged.sentences).toContain("Without run 4 A can't be told: cut it with care, or cut it twice.");
});

test("minutes of cut are a clock of their own", () => {
  const factors = coded(1);
  const runs = [-1, 1, 1, -1].map((A) => ({ block: 1, settings: { A } }));
  const [even] = judge(runs, factors, { sigma: 1, minutes: [1, 1, 1, 1] }).terms;
  expect(even?.correlationWithMinutes).toBeCloseTo(0, 12);
  const [slow] = judge(runs, factors, { sigma: 1, minutes: [1, 1, 1, 9] }).terms;
  // Middles at 0.5, 1.5, 2.5 and 7.5 minutes: deviations −2.5, −1.5, −0.5, 4.5 from their mean of 3.
  expect(slow?.correlationWithMinutes).toBeCloseTo(-4 / (2 * Math.sqrt(29)), 12);
  expect(() => judge(runs, factors, { sigma: 1, minutes: [1] })).toThrow(
    "judge: minutes holds 1 numbers for 4 runs; expected one a run, 0 or above, in cutting order.",
  );
});

test("half-widths over the region take the scatter of set-ups, with the freedom of what the mean rests on", () => {
  const factors: readonly Factor[] = coded(3).map((factor, place) =>
    place === 0 ? { ...factor, change: "hard" as const } : factor,
  );
  const { runs } = layOut({ factors, layout: { kind: "factorial", replicates: 2 } });
  const setUps = new Set(runs.map(({ wholePlot }) => wholePlot)).size;
  expect([runs.length, setUps]).toEqual([16, 4]);
  const factor = factors[0];
  if (factor?.kind !== "quantity") throw new Error("a quantity");
  // B and C in the middle: mean and effect of A lie between set-ups, each with variance ratio/4 + 1/16, on 4 − 2 degrees of freedom.
  const atEnd = { A: factor.high, B: 0, C: 0 };
  for (const varianceRatio of [0.5, 1, 4]) {
    const [found] = halfWidthsAt(runs, factors, [atEnd], { model: "main", varianceRatio });
    expect(found).toBeCloseTo(tQuantile(0.975, 2) * Math.sqrt(2 * (varianceRatio / 4 + 1 / 16)), 9);
  }
});
