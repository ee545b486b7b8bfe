import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";

const sweep = observeTable(
  {
    columns: [
      { name: "feed", unit: "mm/rev", values: [0.1, 0.1, 0.2, 0.2] },
      { name: "Ra", unit: "µm", values: [0.5, 0.6, 1.0, 1.1] },
    ],
  },
  { response: "Ra", factors: ["feed"] },
);

describe("fitLinear", () => {
  test("gives the slope of its example with its interval", () => {
    const [, slope] = fitLinear(sweep).coefficients;
    // By hand: slope 5, residual variance 0.01/2, its own variance 0.005/0.01, t(0.975; 2) 4.302653.
    expect(slope.estimate).toBeCloseTo(5, 13);
    expect(slope.standardError).toBeCloseTo(Math.SQRT1_2, 13);
    expect(slope.low).toBeCloseTo(5 - 4.302653 * Math.SQRT1_2, 5);
    expect(slope.high).toBeCloseTo(5 + 4.302653 * Math.SQRT1_2, 5);
  });

  test("tells an effect in the shop's words with its interval", () => {
    expect(fitLinear(sweep).effects[0].sentence).toBe(
      "Raising feed from 0.1 to 0.2 mm/rev raises Ra by 0.50 µm (95 % 0.20 to 0.80).",
    );
  });
});

describe("fitPowerLaw", () => {
  test("finds the exponent 2 of its example, and a quarter for halving the feed", () => {
    const fit = fitPowerLaw(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "mm/rev", values: [0.1, 0.2, 0.4] },
            { name: "Ra", unit: "µm", values: [0.25, 1, 4] },
          ],
        },
        { response: "Ra", factors: ["feed"] },
      ),
    );
    expect(fit.coefficients[1].estimate).toBeCloseTo(2, 13);
    expect(fit.ratio("feed", 0.5).estimate).toBeCloseTo(0.25, 13);
  });
});
