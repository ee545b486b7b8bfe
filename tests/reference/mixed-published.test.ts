import { expect, test } from "vitest";
import { fitMixed, observeTable } from "../../src/model/index.ts";
import { workedExample } from "./worked-example.ts";

test("gear diameters of ten batches: batches as a random source keep the published mean squares", () => {
  const { columns } = workedExample("gear-diameter-10-batches");
  const fit = fitMixed(observeTable({ columns }, { response: "diameter", factors: [], random: ["batch"] }));
  const [batch, within] = fit.variances;
  // NIST/SEMATECH e-Handbook, section 1.3.5.4: residual standard deviation 0.005938574, sums of squares 0.000729 (9) and 0.003174 (90).
  expect(within.standardDeviation.toFixed(9)).toBe("0.005938574");
  // Between batches: (0.000729/9 − 0.003174/90)/10 = 4.573e-6, each sum of squares to half a unit of its last digit.
  expect(Math.abs(batch.variance - (0.000729 / 9 - 0.003174 / 90) / 10)).toBeLessThan(
    (0.5e-6 / 9 + 0.5e-6 / 90) / 10,
  );
  // The mean is judged by the ten batches.
  expect(fit.coefficients[0].df).toBeCloseTo(9, 8);
  expect(fit.coefficients[0].standardError).toBeCloseTo(Math.sqrt(0.000729 / 9 / 100), 7);
});
