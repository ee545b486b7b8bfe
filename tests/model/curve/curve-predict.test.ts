import { describe, expect, test } from "vitest";
import { fitCurve, fitLinear, observe, observeTable, settingFor } from "../../../src/model/index.ts";
import { seededRandom, tQuantile } from "../../../src/numerics/index.ts";
import { feed, madeTrial } from "../made-trial.ts";

const random = seededRandom(20261125);
const x = Array.from({ length: 14 }, (_, i) => 0.5 + i / 2);
const y = x.map((at) => 5 * (1 - Math.exp(-0.6 * at)) + 0.1 * random.normal());
const table = {
  columns: [
    { name: "y", unit: "µm", values: y },
    { name: "x", unit: "min", values: x },
  ],
};
const line = { response: "y", expression: "a+b*x", start: { a: 0, b: 0 } };
const approach = { response: "y", expression: "a*(1-exp(-b*x))", start: { a: 4, b: 1 } };

describe("asking a curve", () => {
  test("a straight line as a curve predicts what the linear fit predicts, mean and single", () => {
    const linear = fitLinear(observeTable(table, { response: "y", factors: ["x"] }));
    for (const at of [{ x: 2.2 }, { x: 9 }]) {
      const [curve, other] = [fitCurve(table, line).predict(at), linear.predict(at)];
      expect(curve.estimate).toBeCloseTo(other.estimate, 11);
      for (const kind of ["mean", "single"] as const) {
        expect(curve[kind]!.low).toBeCloseTo(other[kind]!.low, 10);
        expect(curve[kind]!.high).toBeCloseTo(other[kind]!.high, 10);
      }
      expect(curve.extrapolation).toEqual(other.extrapolation);
    }
    expect(fitCurve(table, line).covariance![0][1]).toBeCloseTo(linear.covariance![0][1], 12);
  });

  test("the interval of a mean is that of a parameter which stands for the curve there", () => {
    // a·(1 − e^(−b·x)) written by its own value m at x = 2: the linear interval of m is the delta method's, by another road.
    const curve = fitCurve(table, approach);
    const other = fitCurve(table, {
      response: "y",
      expression: "m*(1-exp(-b*x))/(1-exp(-b*2))",
      start: { m: 3, b: 1 },
    });
    const { mean, estimate } = curve.predict({ x: 2 });
    expect(estimate).toBeCloseTo(other.parameters[0].estimate, 9);
    expect(mean!.low).toBeCloseTo(other.parameters[0].low!, 8);
    expect(mean!.high).toBeCloseTo(other.parameters[0].high!, 8);
    expect(curve.predict({ x: 2 }).text).toMatch(
      /^At x 2 min y is 3\.\d+ µm \(95 % .* µm; one more row .* µm\)\.$/,
    );
  });

  test("where the curve can't be computed, or has no scatter, the reason stands in the interval's place", () => {
    const root = fitCurve(table, { response: "y", expression: "a*sqrt(x)+c", start: { a: 1, c: 0 } });
    expect(root.predict({ x: -1 })).toMatchObject({
      estimate: null,
      mean: null,
      reason: "the curve can't be computed there",
    });
    const two = {
      columns: table.columns.map((column) => ({ ...column, values: column.values.slice(0, 2) })),
    };
    const bare = fitCurve(two, line).predict({ x: 1 });
    expect(bare.mean).toBeNull();
    expect(bare.text).toContain("no interval: there are as many parameters as rows");
    expect(fitCurve(table, { ...line, weights: x.map(() => 1) }).predict({ x: 2 }).single).toBeNull();
  });

  test("a column left out, unknown or not finite is refused", () => {
    const curve = fitCurve(table, line);
    expect(() => curve.predict({})).toThrow("x left out; expected a finite number.");
    expect(() => curve.predict({ x: 1, z: 2 })).toThrow(
      "a setting of z, which the curve doesn't use; expected settings of x.",
    );
    expect(() => curve.predict({ x: Infinity })).toThrow(/a finite number/);
  });
});

describe("the setting of a curve that gives a response", () => {
  test.each([1, 3, Infinity])(
    "for a straight line it is Fieller's interval, as for the linear fit (%d readings)",
    (readings) => {
      const linear = fitLinear(observeTable(table, { response: "y", factors: ["x"] }));
      const options = { factor: "x", response: 4, readings };
      const [curve, other] = [settingFor(fitCurve(table, line), options), settingFor(linear, options)];
      expect(curve.estimate).toBeCloseTo(other.estimate!, 8);
      expect(curve.pieces).toHaveLength(other.pieces.length);
      expect(curve.pieces[0].low).toBeCloseTo(other.pieces[0].low!, 6);
      expect(curve.pieces[0].high).toBeCloseTo(other.pieces[0].high!, 6);
    },
  );

  test("at its ends a curve made to go through the response loses t² residual variances", () => {
    const fit = fitCurve(table, approach);
    const told = settingFor(fit, { factor: "x", response: 4, readings: Infinity });
    const threshold = fit.residualSumOfSquares * (1 + tQuantile(0.975, fit.df) ** 2 / fit.df);
    for (const end of [told.pieces[0].low!, told.pieces[0].high!]) {
      const forced = fitCurve(table, {
        response: "y",
        expression: `4*(1-exp(-b*x))/(1-exp(-b*${end}))`,
        start: { b: 0.6 },
      });
      expect(forced.residualSumOfSquares / threshold).toBeCloseTo(1, 6);
    }
    expect(told.estimate!).toBeGreaterThan(told.pieces[0].low!);
    expect(told.estimate!).toBeLessThan(told.pieces[0].high!);
  });

  test("beyond the level that the curve comes up to, the upper end is open", () => {
    const told = settingFor(fitCurve(table, approach), { factor: "x", response: 5.02, readings: 1 });
    expect(told.pieces.at(-1)!.high).toBeNull();
  });

  test("a curve without scatter, an unknown column and weights with readings are refused", () => {
    const two = {
      columns: table.columns.map((column) => ({ ...column, values: column.values.slice(0, 2) })),
    };
    expect(() => settingFor(fitCurve(two, line), { factor: "x", response: 1 })).toThrow(
      /a curve without intervals/,
    );
    expect(() => settingFor(fitCurve(table, line), { factor: "z", response: 1 })).toThrow(/the column "z"/);
    const weighted = fitCurve(table, { ...line, weights: x.map(() => 2) });
    expect(() => settingFor(weighted, { factor: "x", response: 1 })).toThrow(
      /a number of readings for weighted rows/,
    );
  });
});

describe("a curve of a trial", () => {
  const trial = madeTrial(
    [0.08, 0.12, 0.16, 0.2, 0.24].map((setting, i) => ({
      settings: { feed: setting },
      spots: [[30 * setting ** 2 + 0.1 + 0.01 * (i % 2), 30 * setting ** 2 + 0.1]],
    })),
    { factors: [feed] },
  );
  const options = { response: "Ra", expression: "floor + c*feed^2", start: { floor: 0, c: 1 } };

  test("has a row for each run, the mean of its readings, and is that of its observations", () => {
    const fit = fitCurve(trial, options);
    expect(fit.rows.map(({ row }) => row)).toEqual(["run 1", "run 2", "run 3", "run 4", "run 5"]);
    expect(fit.parameters[1].estimate).toBeCloseTo(30, 0);
    expect(fit.response).toEqual({ name: "Ra", unit: "µm" });
    expect(fit.notes[0]).toBe("10 readings on 5 runs: readings of one run are repeats and were averaged.");
    expect(JSON.stringify(fitCurve(observe(trial), options))).toBe(JSON.stringify(fit));
    expect(fit.predict({ feed: 0.1 }).text).toContain("At feed 0.1 mm/rev Ra is 0.4");
  });

  test("takes an expression of its response; an unknown one is refused with those there are", () => {
    const fit = fitCurve(trial, {
      response: "log(Ra)",
      expression: "k + a*log(feed)",
      start: { k: 0, a: 1 },
    });
    expect(fit.response.name).toBe("log(Ra)");
    expect(() => fitCurve(trial, { ...options, response: "Rz" })).toThrow(
      'the response "Rz"; expected one of Ra',
    );
    expect(() => fitCurve(observe(trial, "Ra", { log: true }), options)).toThrow(
      /observations of logarithms for a curve/,
    );
  });
});
