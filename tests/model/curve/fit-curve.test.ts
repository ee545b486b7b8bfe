import { describe, expect, test } from "vitest";
import { fitCurve, fitLinear, observeTable, settingFor } from "../../../src/model/index.ts";
import { seededRandom, tQuantile } from "../../../src/numerics/index.ts";

const x = Array.from({ length: 14 }, (_, i) => 0.5 + i / 2);
const random = seededRandom(20261125);
const y = x.map((at) => 5 * (1 - Math.exp(-0.6 * at)) + 0.1 * random.normal());
const table = {
  columns: [
    { name: "y", unit: "", values: y },
    { name: "x", unit: "", values: x },
  ],
};

describe("fitting a curve", () => {
  test("a straight line as a curve is the straight line of the linear fit, and its profile interval the same", () => {
    const linear = fitLinear(observeTable(table, { response: "y", factors: ["x"] }));
    for (const intervals of ["linear", "profile"] as const) {
      const curve = fitCurve(table, { response: "y", expression: "a+b*x", start: { a: 0, b: 0 }, intervals });
      linear.coefficients.forEach((one, k) => {
        expect(curve.parameters[k].estimate).toBeCloseTo(one.estimate, 11);
        expect(curve.parameters[k].standardError).toBeCloseTo(one.standardError!, 11);
        // Ends of a profile are sought to 1e-9 of a standard error.
        expect(curve.parameters[k].low).toBeCloseTo(one.low!, 8);
        expect(curve.parameters[k].high).toBeCloseTo(one.high!, 8);
      });
    }
  });

  test("at the ends of a profile interval the refitted sum of squares is t² variances above its minimum", () => {
    const options = { response: "y", expression: "a*(1-exp(-b*x))", intervals: "profile" } as const;
    const fit = fitCurve(table, { ...options, start: { a: 4, b: 1 } });
    const threshold = fit.residualSumOfSquares * (1 + tQuantile(0.975, fit.df) ** 2 / fit.df);
    for (const end of [fit.parameters[1].low!, fit.parameters[1].high!]) {
      const refit = fitCurve(table, { response: "y", expression: `a*(1-exp(-${end}*x))`, start: { a: 4 } });
      expect(refit.residualSumOfSquares / threshold).toBeCloseTo(1, 7);
    }
  });

  test("weights of whole numbers are as good as repeated rows", () => {
    const options = { response: "y", expression: "a*(1-exp(-b*x))", start: { a: 4, b: 1 } };
    const doubled = {
      columns: table.columns.map((column) => ({ ...column, values: [...column.values, ...column.values] })),
    };
    const weighted = fitCurve(table, { ...options, weights: x.map(() => 2) });
    const repeated = fitCurve(doubled, options);
    expect(weighted.residualSumOfSquares).toBeCloseTo(repeated.residualSumOfSquares, 12);
    expect(weighted.parameters[1].estimate).toBeCloseTo(repeated.parameters[1].estimate, 11);
  });
});

describe("the setting for a response", () => {
  test("for a straight line it is Fieller's interval", () => {
    const fit = fitLinear(observeTable(table, { response: "y", factors: ["x"] }));
    const wanted = 4;
    const found = settingFor(fit, { factor: "x", response: wanted, readings: 3 });
    // The roots of (y0 − ȳ − b·d)² = t²s²(1/3 + 1/n + d²/Sxx) in d = x − x̄.
    const n = x.length;
    const meanX = x.reduce((a, b) => a + b) / n;
    const meanY = y.reduce((a, b) => a + b) / n;
    const sxx = x.reduce((total, one) => total + (one - meanX) ** 2, 0);
    const slope = x.reduce((total, one, i) => total + (one - meanX) * y[i], 0) / sxx;
    const k = (tQuantile(0.975, n - 2) * fit.residualSd!) ** 2;
    const [a, b, c] = [
      slope ** 2 - k / sxx,
      -2 * slope * (wanted - meanY),
      (wanted - meanY) ** 2 - k * (1 / 3 + 1 / n),
    ];
    const root = Math.sqrt(b * b - 4 * a * c);
    expect(found.estimate).toBeCloseTo(meanX + (wanted - meanY) / slope, 9);
    expect(found.pieces).toHaveLength(1);
    expect(found.pieces[0].low).toBeCloseTo(meanX + (-b - root) / (2 * a), 6);
    expect(found.pieces[0].high).toBeCloseTo(meanX + (-b + root) / (2 * a), 6);
  });
});
