import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  fitLinear,
  isInterval,
  logVarianceMoments,
  main,
  observeTable,
  scatterFromReplicates,
  scatterFromResiduals,
  times,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import { workedExample } from "../../reference/worked-example.ts";
import { tableOf } from "../comparison/by-r.ts";

interface ByR {
  readonly effects: readonly { factor: string; ratio: number; deviance: number }[];
  readonly moments: readonly { df: number; bias: number; variance: number }[];
}
// The fixture is the project's own and has this shape.
const byR = JSON.parse(
  readFileSync(new URL("../../fixtures/comparisons/dispersion.json", import.meta.url), "utf8"),
) as ByR;

describe("scatter from replicates", () => {
  test.each(byR.moments)(
    "moments of the log variance on $df df are ψ and ψ′ of R",
    ({ df, bias, variance }) => {
      const found = logVarianceMoments(df);
      expect(found.bias).toBeCloseTo(bias, 13);
      expect(found.variance / variance).toBeCloseTo(1, 13);
    },
  );

  test("two settings: the ratio of standard deviations, close to the interval by F", () => {
    // 11 values of variance 1 and of variance 4.
    const base = Array.from({ length: 11 }, (_, i) => i - 5);
    const scale = Math.sqrt(11);
    const value = [...base.map((one) => 50 + one / scale), ...base.map((one) => 50 + (2 * one) / scale)];
    const edge = value.map((_, i) => (i < 11 ? "fresh" : "used"));
    const { scatter, location, cells } = scatterFromReplicates(tableOf({ edge }, value));
    const [{ value: ratio, sentence }] = scatter;
    if (!isInterval(ratio)) throw new Error(ratio.reason);
    expect(ratio.estimate).toBeCloseTo(2, 10);
    // By F(0.975; 10, 10) = 3.7168: 1.037 to 3.856. Normal theory of the logarithm is within 2 %.
    expect(ratio.low).toBeCloseTo(1.037, 1);
    expect(Math.abs(ratio.high / 3.856 - 1)).toBeLessThan(0.02);
    expect(sentence).toBe(
      "Changing edge from fresh to used makes the standard deviation of Ra 2.0 times as large (95 % 1.04 to 3.8, p 0.037).",
    );
    expect(location).toHaveLength(1);
    const [fresh] = cells.map(({ standardDeviation }) => standardDeviation);
    if (!isInterval(fresh)) throw new Error(fresh.reason);
    // χ²(0.975, 10) = 20.4832, χ²(0.025, 10) = 3.24697 (tables): √(10/20.4832), √(10/3.24697).
    expect(fresh.low).toBeCloseTo(Math.sqrt(10 / 20.4832), 5);
    expect(fresh.high).toBeCloseTo(Math.sqrt(10 / 3.24697), 5);
  });

  test("survival times scatter less where they are short, as Box and Cox (1964) say", () => {
    const observations = observeTable(workedExample("survival-3x4"), {
      response: "survival",
      factors: ["poison", "treatment"],
      categories: ["poison"],
    });
    const { scatter } = scatterFromReplicates(observations);
    expect(scatter[1].sentence).toMatch(
      /poison from 1 to 3 makes the standard deviation of survival 0\.20 times/u,
    );
    // Of rates no such thing is left.
    const rates = {
      ...observations,
      rows: observations.rows.map((row) => ({ ...row, value: 1 / row.value, single: [1 / row.value] })),
    };
    expect(scatterFromReplicates(rates).scatter[1].p).toBeGreaterThan(0.05);
  });

  test("readings of one run show the scatter on its surface", () => {
    const run = ["1", "1", "1", "2", "2", "2", "3", "3", "3", "4", "4", "4"];
    const observations = observeTable(
      {
        columns: [
          { name: "run", unit: "", values: run },
          { name: "edge", unit: "", values: run.map((one) => (Number(one) % 2 ? "fresh" : "worn")) },
          { name: "Ra", unit: "µm", values: [1, 1.01, 0.99, 1, 1.1, 0.9, 1.2, 1.19, 1.21, 1.3, 1.2, 1.4] },
        ],
      },
      { response: "Ra", factors: ["edge"] },
    );
    const found = scatterFromReplicates(observations, { of: "readings" });
    expect(found.cells).toHaveLength(4);
    expect(found.scatter[0].value.estimate).toBeCloseTo(10, 6);
    expect(() => scatterFromReplicates(tableOf({ edge: ["a", "b"] }, [1, 2]))).toThrow(
      /cut twice.*residuals/u,
    );
  });

  test("settings that read the same every time are named and give no ratio", () => {
    const found = scatterFromReplicates(tableOf({ edge: ["a", "a", "b", "b"] }, [1, 1, 2, 3]));
    expect(found.notes.join(" ")).toMatch(/1 of 2 settings read the same every time/u);
    expect(found.scatter[0].sentence).toMatch(/can't be told: too few settings/u);
  });
});

describe("scatter from residuals", () => {
  const filtration = observeTable(workedExample("filtration-2x2x2x2"), {
    response: "rate",
    factors: ["A", "B", "C", "D"],
  });
  const terms = [main("A"), main("C"), main("D"), times("A", "C"), times("A", "D")];

  test("the ratio is that of nlme's gls by restricted likelihood, for factors outside the model too", () => {
    const { scatter } = scatterFromResiduals(filtration, { terms, draws: 99 });
    expect(scatter.map(({ factor }) => factor)).toEqual(["A", "B", "C", "D"]);
    byR.effects.forEach(({ ratio }, i) => {
      // gls stops when its own search no longer moves by 1e-6.
      expect(Math.abs(scatter[i].value.estimate! / ratio - 1)).toBeLessThan(2e-4);
    });
    // Box and Meyer's log ratio, by hand from the residuals at the two ends of C.
    const { rows } = fitLinear(filtration, { terms });
    const squares = (end: number) =>
      rows
        .filter(({ settings }) => settings["C"] === end)
        .reduce((sum, { residual }) => sum + residual ** 2, 0);
    expect(scatter[2].residualLogRatio).toBeCloseTo(Math.log(squares(1) / squares(-1)), 12);
  });

  test("a factor that makes the scatter six times as large is found, the others stay silent", () => {
    const random = seededRandom(20261125);
    const signs = Array.from({ length: 32 }, (_, i) =>
      [0, 1, 2, 3].map((k) => (((i >> k) & 1) === 1 ? 1 : -1)),
    );
    const columns = ["a", "b", "c", "d"].map((name, k) => ({
      name,
      unit: "",
      values: signs.map((row) => row[k]),
    }));
    const y = signs.map(([a, b, c]) => 10 + 2 * a + b + Math.exp((c * Math.log(6)) / 2) * random.normal());
    const observations = observeTable(
      { columns: [...columns, { name: "y", unit: "", values: y }] },
      { response: "y", factors: ["a", "b", "c", "d"] },
    );
    const { scatter } = scatterFromResiduals(observations, { draws: 499 });
    expect(scatter[2].p).toBeLessThan(0.01);
    const { value } = scatter[2];
    if (!isInterval(value)) throw new Error(value.reason);
    expect(value.low).toBeLessThan(6);
    expect(value.high).toBeGreaterThan(6);
    for (const other of [0, 1, 3]) expect(scatter[other].p).toBeGreaterThan(0.05);
  });

  test("on even scatter p is below 0.05 about one time in twenty", () => {
    const random = seededRandom(7);
    const levels = Array.from({ length: 12 }, (_, i) => (i % 2 ? "b" : "a"));
    let below = 0;
    for (let trial = 0; trial < 200; trial++) {
      const value = levels.map(() => random.normal());
      below +=
        scatterFromResiduals(tableOf({ edge: levels }, value), { draws: 99 }).scatter[0].p! <= 0.05 ? 1 : 0;
    }
    // Binomial(200, 0.05): 10 ± 3 standard deviations of 3.1.
    expect(below).toBeGreaterThan(1);
    expect(below).toBeLessThan(20);
  });

  test("too little left over, exact fits and silly draws are refused in words", () => {
    expect(() => scatterFromResiduals(tableOf({ edge: ["a", "a", "b", "b"] }, [1, 2, 3, 5]))).toThrow(
      /2 degrees of freedom left over; expected three or more/u,
    );
    const flat = tableOf({ edge: ["a", "a", "a", "b", "b", "b"] }, [1, 1, 1, 2, 2, 2]);
    expect(() => scatterFromResiduals(flat)).toThrow(/meets exactly/u);
    expect(() => scatterFromResiduals(filtration, { terms, draws: 3 })).toThrow(/3 draws/u);
  });
});
