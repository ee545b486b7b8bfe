import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  crossValidate,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  leftOutBeside,
  leftOutSentence,
  observeTable,
  validateChoice,
} from "../../../src/model/index.ts";
import type { Fit, Observations } from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

type Columns = Readonly<Record<string, readonly (number | string)[]>>;

function observed(columns: Columns, factors: readonly string[], block?: string): Observations {
  return observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    { response: "y", factors, ...(block === undefined ? {} : { block }) },
  );
}

/** The second road: every part left out for good, the rest fitted from nothing, and asked. */
function byRefits(
  observations: Observations,
  fit: (rest: Observations) => Fit,
  part: readonly number[],
): number {
  const errors = observations.rows.flatMap((row, i) => {
    const rest = fit({ ...observations, rows: observations.rows.filter((_, k) => part[k] !== part[i]) });
    const predicted = rest.predict(row.settings).estimate;
    return [rest.logScale ? Math.log(row.value / predicted) : row.value - predicted];
  });
  return Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
}

describe("runs left out", () => {
  const small = observed({ x: [1, 2, 3, 4], y: [1, 2, 3, 5] }, ["x"]);

  test("a line through four points misses them by what is worked out by hand", () => {
    const told = crossValidate(fitLinear(small));
    // Line 1.3x − 0.5, leverages 0.7, 0.3: errors 0.2/0.3, −0.1/0.7, −0.4/0.7, 0.3/0.3.
    [0.2 / 0.3, -0.1 / 0.7, -0.4 / 0.7, 1].forEach((error, i) =>
      expect(told.rows[i].error).toBeCloseTo(error, 12),
    );
    expect(told.timesExpected).toBeCloseTo(Math.sqrt((1 / 0.3 + 1 / 0.7) / 2), 12);
  });

  test("one by one they are missed by as much as fits from nothing say (any numbers)", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 7, maxLength: 7 }), (y) => {
        const rows = observed({ x: [1, 2, 3, 5, 8, 9, 11], z: [3, 1, 4, 1, 5, 9, 2], y }, ["x", "z"]);
        for (const fit of [fitLinear, fitPowerLaw]) {
          const told = crossValidate(fit(rows));
          const other = byRefits(
            rows,
            fit,
            rows.rows.map((_, i) => i),
          );
          expect(Math.abs(told.predictiveSd! - other)).toBeLessThan(1e-9 * (1 + other));
        }
      }),
      { numRuns: 20, seed: 2 },
    );
  });

  test("readings of a run leave together with it", () => {
    const run = [1, 1, 2, 2, 3, 3, 4, 4, 5, 5];
    const x = run.map((one) => one * one);
    const random = seededRandom(3);
    const y = run.map((one) => one + random.normal());
    const base = observed({ x, y }, ["x"]);
    const readings = { ...base, rows: base.rows.map((row, i) => ({ ...row, run: run[i] })) };
    const told = crossValidate(fitLinear(readings));
    expect(told.parts).toBe(5);
    expect(told.predictiveSd).toBeCloseTo(byRefits(readings, fitLinear, run), 11);
    const byReading = crossValidate(fitLinear(base)).predictiveSd!;
    expect(told.predictiveSd).not.toBeCloseTo(byReading, 3);
  });

  test("parts drawn with a seed are the same each time and agree with fits from nothing", () => {
    const random = seededRandom(4);
    const x = Array.from({ length: 20 }, (_, i) => i % 5);
    const rows = observed({ x, y: x.map((one) => one + random.normal()) }, ["x"]);
    const fit = fitLinear(rows);
    const told = crossValidate(fit, { leave: 4, seed: 9 });
    expect(crossValidate(fit, { leave: 4, seed: 9 })).toEqual(told);
    expect(crossValidate(fit, { leave: 4, seed: 10 }).predictiveSd).not.toBe(told.predictiveSd);
    const order = seededRandom(9).shuffle(rows.rows.map((row) => row.run));
    const part = rows.rows.map((row) => order.indexOf(row.run) % 4);
    expect(told.predictiveSd).toBeCloseTo(byRefits(rows, fitLinear, part), 11);
  });

  test("a block left out is predicted as one not met before: at the mean of the others", () => {
    const day = ["a", "a", "a", "b", "b", "b", "c", "c", "c"];
    const x = [1, 2, 3, 1, 2, 4, 2, 3, 4];
    const y = x.map((one, i) => 2 * one + [0, 3, -6][Math.floor(i / 3)] + [0.1, -0.2, 0.15][i % 3]);
    const rows = observed({ x, y, day }, ["x"], "day");
    const told = crossValidate(fitLinear(rows), { leave: "block" });
    const errors = x.map((at, i) => {
      const others = x.flatMap((_, k) => (day[k] === day[i] ? [] : [k]));
      const [restX, restY, restDay] = [x, y, day].map((values) => others.map((k) => values[k]));
      const rest = fitLinear(observed({ x: restX, y: restY, day: restDay }, ["x"], "day"));
      return y[i] - rest.predict({ x: at }).estimate;
    });
    const sd = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / 9);
    expect(told.predictiveSd).toBeCloseTo(sd, 11);
    const choice = validateChoice(rows, (rest, options) => fitLinear(rest, options), {
      how: "fixed",
      leave: "block",
    });
    expect(choice.predictiveSd).toBeCloseTo(sd, 11);
    expect(choice.keptSd).toBeCloseTo(sd, 11);
    expect(told.sentence).toContain("of a run of a block yet to come is missed by");
  });

  test("weights of whole numbers leave out what so many like runs would", () => {
    const fit = fitLinear(small, { weights: [1, 2, 1, 1] });
    const rest = fitLinear({ ...small, rows: small.rows.filter((_, i) => i !== 1) });
    expect(crossValidate(fit).rows[1].predicted).toBeCloseTo(rest.predict({ x: 2 }).estimate, 12);
  });

  test("the sentence gives both scatters, and what the number of terms leads one to expect", () => {
    expect(crossValidate(fitLinear(small)).sentence).toBe(
      "Leaving out each run in turn, y of a run that the model has not seen is missed by 0.67 (root mean square); the scatter about the model claims 0.39, 1.7 times less, where 1.5 times is what so many terms on so few runs lead one to expect.",
    );
  });
});

describe("runs that can't be predicted", () => {
  test("are named, and left out of the figures", () => {
    const told = crossValidate(fitLinear(observed({ x: [0, 0, 0, 1], y: [1, 2, 1.5, 9] }, ["x"])));
    expect(told.notPredicted).toEqual([4]);
    expect(told.rows[3].error).toBeNull();
    expect(told.sentence).toContain("Nothing is known of run 4 without itself");
  });

  test.each([
    ["as many terms as runs", { x: [1, 2], y: [1, 3] }],
    ["one value throughout", { x: [1, 2, 3], y: [2, 2, 2] }],
    ["one setting", { x: [1, 1, 1], y: [2, 3, 4] }],
  ])("%s: an answer without a number that can't be read", (_, columns) => {
    for (const leave of ["run", 2] as const)
      expect(JSON.stringify(crossValidate(fitLinear(observed(columns, ["x"])), { leave }))).not.toMatch(
        /NaN|Infinity|undefined/,
      );
  });

  test("more parts than runs, and a single block, are refused", () => {
    const fit = fitLinear(observed({ x: [1, 2, 3], y: [1, 2, 4] }, ["x"]));
    expect(() => crossValidate(fit, { leave: 4 })).toThrow(
      "3 runs to leave out in 4 parts; expected at least 4.",
    );
    expect(() => crossValidate(fit, { leave: "block" })).toThrow(
      "1 blocks to leave out in turn; expected at least 2.",
    );
    expect(() => crossValidate(fit, { leave: 1.5 })).toThrow(/1.5 parts/);
  });
});

describe("models beside each other", () => {
  const y = [2.1, 3.9, 6.4, 9.2, 17.1, 18.4, 21.5];
  const rows = observed({ x: [1, 2, 3, 5, 8, 9, 11], y }, ["x"]);

  test("runs left out are missed on the response's own scale, whatever each was fitted on", () => {
    const beside = leftOutBeside(fitLinear(rows), fitPowerLaw(rows))!;
    // The second road: seven fits each from six runs.
    const byHand = (fit: (rest: Observations) => Fit): number =>
      Math.sqrt(
        rows.rows.reduce((sum, row) => {
          const rest = { ...rows, rows: rows.rows.filter((other) => other !== row) };
          return sum + (row.value - Number(fit(rest).predict(row.settings).estimate)) ** 2;
        }, 0) / 7,
      );
    expect(beside.runs).toBe(7);
    expect(beside.one).toBeCloseTo(byHand(fitLinear), 10);
    expect(beside.other).toBeCloseTo(byHand(fitPowerLaw), 10);
  });

  test("a single run can't be left out, and a mixed fit leaves out none: said, not computed", () => {
    expect(leftOutSentence(fitLinear({ ...rows, rows: rows.rows.slice(0, 1) }, { terms: [{}] }))).toBe(
      "There are too few runs to leave any out in turn.",
    );
    const days = observeTable(
      {
        columns: [
          { name: "x", unit: "", values: [1, 2, 3, 1, 2, 3, 1, 2, 3] },
          { name: "day", unit: "", values: [1, 1, 1, 2, 2, 2, 3, 3, 3].map((day) => `d${day}`) },
          { name: "y", unit: "", values: [2, 4, 6.5, 3, 5, 7.1, 1.2, 3.4, 5] },
        ],
      },
      { response: "y", factors: ["x"], random: ["day"] },
    );
    const mixed = fitMixed(days, { terms: [{ x: 1 }], random: ["day"] });
    expect(leftOutSentence(mixed)).toContain("those of one day hang together");
    expect(leftOutBeside(mixed, fitLinear(rows))).toBeNull();
  });
});
