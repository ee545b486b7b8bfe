import { afterAll, describe, expect, test } from "vitest";
import { fitCurve } from "../../src/model/index.ts";
import { worstDigits } from "../numerics/digits.ts";
import { printDigits, type DigitsRow } from "./digits-table.ts";
import { nonlinearModels, readNonlinearSet } from "./strd-nonlinear-models.ts";

// Lanczos1's residuals are about 8e-14 on readings of 2.5, whose rounding to doubles alone is 2e-16: three digits of their sum of squares survive.
const standardErrorDigits: Readonly<Record<string, number>> = { Lanczos1: 2.5 };

const table: DigitsRow[] = [];
afterAll(() =>
  printDigits(
    "StRD nonlinear, digits against the 11 that are certified, from the worse of both starts",
    table,
    [
      "Lanczos1: its residual sum of squares is 1.4e-25 on readings of 2.5, whose rounding into doubles alone is a thousandth of it; standard errors keep no more digits.",
    ],
  ),
);

/** The digits of both starts of a set, the worse of each. */
function noted(name: string, digits: Readonly<Record<string, number>>): void {
  const place = table.findIndex((row) => row.name === name);
  if (place < 0) table.push({ name, digits });
  else
    table[place] = {
      name,
      digits: Object.fromEntries(
        Object.entries(digits).map(([kind, count]) => [kind, Math.min(count, table[place].digits[kind])]),
      ),
    };
}

describe("NIST's nonlinear reference sets", () => {
  for (const [name, expression] of Object.entries(nonlinearModels)) {
    const set = readNonlinearSet(name);
    const names = set.predictors.length === 1 ? ["x"] : ["x1", "x2"];
    const columns = [
      { name: "y", unit: "", values: set.response },
      ...set.predictors.map((values, k) => ({ name: names[k], unit: "", values })),
    ];
    for (const which of [0, 1]) {
      test(`${name} from start ${which + 1} reaches 9 digits of parameters and 6 of standard errors`, () => {
        const fit = fitCurve(
          { columns },
          {
            response: name === "Nelson" ? "log(y)" : "y",
            expression,
            start: Object.fromEntries(set.parameters.map(({ starts }, k) => [`b${k + 1}`, starts[which]])),
          },
        );
        expect(fit.converged).toBe(true);
        const estimates = fit.parameters.map(({ estimate }) => estimate);
        const errors = fit.parameters.map(({ standardError }) => standardError!);
        noted(name, {
          parameters: worstDigits(
            estimates,
            set.parameters.map((one) => one.estimate),
          ),
          "standard errors": worstDigits(
            errors,
            set.parameters.map((one) => one.standardError),
          ),
          "residual sum": worstDigits([fit.residualSumOfSquares], [set.residualSumOfSquares]),
          "residual sd": worstDigits([fit.residualSd!], [set.residualSd]),
        });
        // Eleven digits are certified.
        expect(
          worstDigits(
            estimates,
            set.parameters.map((one) => one.estimate),
          ),
        ).toBeGreaterThan(9);
        const wanted = standardErrorDigits[name] ?? 9;
        expect(
          worstDigits(
            errors,
            set.parameters.map((one) => one.standardError),
          ),
        ).toBeGreaterThan(wanted);
        if (name !== "Lanczos1") {
          expect(worstDigits([fit.residualSumOfSquares], [set.residualSumOfSquares])).toBeGreaterThan(9);
          expect(worstDigits([fit.residualSd!], [set.residualSd])).toBeGreaterThan(9);
        }
      });
    }
  }
});
