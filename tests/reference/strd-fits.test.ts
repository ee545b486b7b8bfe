import { readFileSync } from "node:fs";
import { afterAll, describe, expect, test } from "vitest";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import type { Fit } from "../../src/model/index.ts";
import { digits, worstDigits } from "../numerics/digits.ts";
import { printDigits, type DigitsRow } from "./digits-table.ts";
import { linearSets } from "./strd-linear-names.ts";

/** Certified by NIST, Statistical Reference Datasets (www.itl.nist.gov/div898/strd), 15 digits. */
interface LinearSet {
  readonly name: string;
  readonly response: readonly number[];
  readonly predictors: readonly (readonly number[])[];
  readonly coefficients: readonly {
    readonly index: number;
    readonly estimate: number;
    readonly standardError: number;
  }[];
  readonly residualSd: number;
  readonly rSquared: number;
  readonly f: number | "infinite";
  readonly residual: { readonly df: number; readonly sumOfSquares: number };
}

const folder = new URL("../fixtures/strd/linear/", import.meta.url);

function setNamed(name: string): LinearSet {
  return JSON.parse(readFileSync(new URL(`${name.toLowerCase()}.json`, folder), "utf8")) as LinearSet;
}

/** The model of a set, asked for as a user would: powers of x as terms, or several factors; coefficients come in the set's order. */
function fitOfSet(set: LinearSet, coded = false): Fit {
  const names = set.predictors.length === 1 ? ["x"] : set.predictors.map((_, k) => `x${k + 1}`);
  const observations = observeTable(
    {
      columns: [
        ...names.map((name, k) => ({ name, unit: "as measured", values: set.predictors[k] })),
        { name: "y", unit: "", values: set.response },
      ],
    },
    { response: "y", factors: names },
  );
  const powers = set.coefficients.map(({ index }) => index).filter((index) => index > 0);
  const throughOrigin = set.coefficients.every(({ index }) => index > 0);
  const terms =
    names.length === 1 ? powers.map((degree) => ({ x: degree })) : names.map((name) => ({ [name]: 1 }));
  return fitLinear(observations, { terms, throughOrigin, coded });
}

const table: DigitsRow[] = [];
afterAll(() =>
  printDigits("StRD linear, through fitLinear, digits against the certified values", table, [
    "Wampler1 and Wampler2 are met exactly: standard errors 0, F without end.",
  ]),
);

/** F of all terms together; null where the data are met exactly. */
function wholeF(fit: Fit): number | null {
  const sources = fit.analysis.filter(({ source }) => source !== "residual");
  const residual = fit.analysis.find(({ source }) => source === "residual")!;
  const df = sources.reduce((sum, row) => sum + row.df, 0);
  const all = sources.reduce((sum, row) => sum + row.sumOfSquares, 0);
  return fit.residualSd === 0 ? null : all / df / residual.meanSquare;
}

// Wampler1 and Wampler2 are met exactly: their standard errors are 0. Wampler2's decimals read into doubles allow 13 digits.
describe.each(linearSets)(
  "%s through fitLinear, fitted in centred columns and told in natural ones",
  (name) => {
    const set = setNamed(name);
    const fit = fitOfSet(set);
    const f = wholeF(fit);
    table.push({
      name,
      digits: {
        coefficients: worstDigits(
          fit.coefficients.map(({ estimate }) => estimate),
          set.coefficients.map(({ estimate }) => estimate),
        ),
        "standard errors": worstDigits(
          fit.coefficients.map(({ standardError }) => standardError!),
          set.coefficients.map(({ standardError }) => standardError),
        ),
        ...(f === null || set.f === "infinite" ? {} : { F: digits(f, set.f) }),
        "residual sd": digits(fit.residualSd!, set.residualSd),
        "R²": digits(fit.rSquared!, set.rSquared),
      },
    });

    test("keeps at least 12 digits of F, which has no end where the data are met exactly", () => {
      if (set.f === "infinite") expect(f).toBeNull();
      else expect(digits(f!, set.f)).toBeGreaterThanOrEqual(12);
    });

    test("keeps at least 12 digits of the coefficients", () => {
      expect(fit.inseparable).toEqual([]);
      const found = fit.coefficients.map(({ estimate }) => estimate);
      expect(
        worstDigits(
          found,
          set.coefficients.map(({ estimate }) => estimate),
        ),
      ).toBeGreaterThanOrEqual(12);
    });

    test("keeps at least 12 digits of the standard errors, which are 0 where the data are met exactly", () => {
      const found = fit.coefficients.map(({ standardError }) => standardError!);
      const certified = set.coefficients.map(({ standardError }) => standardError);
      expect(worstDigits(found, certified)).toBeGreaterThanOrEqual(12);
    });

    test("keeps at least 12 digits of residual scatter and R²", () => {
      expect(fit.residualDf).toBe(set.residual.df);
      expect(digits(fit.residualSd!, set.residualSd)).toBeGreaterThanOrEqual(12);
      expect(digits(fit.rSquared!, set.rSquared)).toBeGreaterThanOrEqual(12);
    });
  },
);

test("Filip fitted on coded columns has the same fitted values", () => {
  const set = setNamed("Filip");
  const [natural, coded] = [fitOfSet(set), fitOfSet(set, true)];
  expect(
    worstDigits(
      coded.rows.map(({ fitted }) => fitted),
      natural.rows.map(({ fitted }) => fitted),
    ),
  ).toBeGreaterThan(15);
});

test("Filip's fitted values follow from predict at the settings to 13 digits", () => {
  const fit = fitOfSet(setNamed("Filip"));
  const again = fit.rows.map((row) => fit.predict(row.settings).estimate);
  expect(
    worstDigits(
      again,
      fit.rows.map(({ fitted }) => fitted),
    ),
  ).toBeGreaterThan(12);
});
