import { readdirSync, readFileSync } from "node:fs";
import { afterAll, describe, expect, test } from "vitest";
import { autocorrelation, mean, standardDeviation } from "../../src/numerics/index.ts";
import { digits } from "../numerics/digits.ts";
import { printDigits, type DigitsRow } from "./digits-table.ts";

interface UnivariateSet {
  readonly name: string;
  readonly values: readonly number[];
  readonly mean: number;
  readonly standardDeviation: number;
  readonly autocorrelation: number;
}

/**
 * What exact arithmetic on the data read into doubles reaches (a set whose values share their leading digits loses them in reading): standard deviation, then
 * autocorrelation; 14 where nothing is lost.
 */
const limits: Readonly<Record<string, readonly [number, number]>> = {
  Mavro: [12.9, 13],
  Michelso: [13, 13],
  NumAcc3: [9.4, 11.2],
  NumAcc4: [8.2, 10.7],
};

const table: DigitsRow[] = [];
afterAll(() =>
  printDigits("StRD univariate, digits against the certified values", table, [
    "NumAcc3 and NumAcc4 share 7 and 8 leading digits, which reading into doubles loses, so that exact arithmetic reaches no more; Mavro and Michelso keep 13.",
  ]),
);

const folder = new URL("../fixtures/strd/univariate/", import.meta.url);

for (const file of readdirSync(folder)) {
  const set = JSON.parse(readFileSync(new URL(file, folder), "utf8")) as UnivariateSet;
  const values = Float64Array.from(set.values);
  const reached = {
    mean: digits(mean(values), set.mean),
    deviation: digits(standardDeviation(values), set.standardDeviation),
    correlation: digits(autocorrelation(values), set.autocorrelation),
  };
  const told = Object.entries(reached)
    .map(([what, count]) => `${what} ${count.toFixed(1)}`)
    .join(", ");
  table.push({ name: set.name, digits: reached });
  describe(`StRD ${set.name}`, () => {
    test(`digits against the certified values: ${told}`, () => {
      const [deviation, correlation] = limits[set.name] ?? [14, 13.9];
      expect(reached.mean).toBeGreaterThan(14.5);
      expect(reached.deviation).toBeGreaterThan(deviation);
      expect(reached.correlation).toBeGreaterThan(correlation);
    });
  });
}
