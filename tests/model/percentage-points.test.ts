import { describe, expect, test } from "vitest";
import {
  compareLevels,
  contrast,
  crossValidate,
  equivalence,
  fitCurve,
  fitLinear,
  fitMixed,
  observeTable,
} from "../../src/model/index.ts";
import { differenceUnit } from "../../src/units/index.ts";

/** Sound castings in a hundred: each run's yield in %, invented. */
const feed = [1, 1, 2, 2, 3, 3, 1, 2, 3, 1, 2, 3];
const edge = feed.map((_, k) => (k % 2 === 0 ? "new" : "used"));
const day = feed.map((_, k) => `d${Math.floor(k / 3)}`);
const bump = [0.3, -0.2, 0.1, -0.4, 0.2, 0.1, -0.1, 0.4, -0.3, 0.2, -0.1, 0.3];
const values = feed.map((one, k) => 90 + 2 * one - (k % 2 === 0 ? 0 : 1.5) + bump[k]);

function observed(unit: string, random: readonly string[] = []) {
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "", values: feed },
        { name: "edge", unit: "", values: edge },
        { name: "day", unit: "", values: day },
        { name: "yield", unit, values },
      ],
    },
    { response: "yield", factors: ["feed", "edge"], random },
  );
}

describe("readings in %", () => {
  test.each(["%", "percent", "per cent", "pct"])(
    "differences of readings in %s are percentage points",
    (unit) => {
      expect(differenceUnit(unit)).toBe("percentage points");
      const rows = observed(unit);
      const fit = fitLinear(rows);
      expect(fit.effects[0].sentence).toMatch(
        /raises yield by 4\.\d+ percentage points \(95 % 3\.\d+ to 4\.\d+\)\./,
      );
      expect(contrast(fit, { feed: 1 }, { feed: 2 }).sentence).toMatch(
        /raises yield by \d\.\d+ percentage points \(95 % \d\.\d+ to \d\.\d+\)\./,
      );
      expect(compareLevels(rows, { factor: "edge" }).pairs[0].sentence).toMatch(
        /^With edge used, yield is \d\.\d+ percentage points lower than with new \(/,
      );
      expect(equivalence(rows, { factor: "edge", margin: 5 }).pairs[0].sentence).toMatch(
        /^No difference in yield larger than 5 percentage points between .*\(−\d.* to −\d\.\d+ percentage points, /,
      );
      expect(crossValidate(fit, { leave: "run" }).sentence).toMatch(/is missed by 0\.\d+ percentage points/);
      const mixed = fitMixed(observed(unit, ["day"]));
      expect(mixed.variances.at(-1)!.sentence).toMatch(/scatters by 0\.\d+ percentage points/);
    },
  );

  test("what could have been missed is in percentage points too", () => {
    const flat = observeTable(
      {
        columns: [
          { name: "feed", unit: "", values: feed },
          { name: "yield", unit: "%", values: bump.map((one) => 90 + one) },
        ],
      },
      { response: "yield", factors: ["feed"] },
    );
    const fit = fitLinear(flat);
    expect(fit.effects[0].sentence).toMatch(
      /an effect up to 0\.\d+ percentage points could have been missed\./,
    );
    expect(contrast(fit, { feed: 1 }, { feed: 3 }).sentence).toMatch(
      /one up to 0\.\d+ percentage points could have been missed \(95 % −0\.\d+ to 0\.\d+ percentage points, p /,
    );
  });

  test("a contrast of a curve is too; a prediction, which is a reading, stays in %", () => {
    const table = {
      columns: [
        { name: "feed", unit: "", values: feed },
        { name: "yield", unit: "%", values },
      ],
    };
    const curve = fitCurve(table, { response: "yield", expression: "a + b*feed", start: { a: 90, b: 1 } });
    expect(contrast(curve, { feed: 1 }, { feed: 2 }).sentence).toMatch(
      /raises yield by \d\.\d+ percentage points/,
    );
    expect(curve.predict({ feed: 2 }).text).toMatch(/^At feed 2 yield is \d+\.\d+ % \(/);
    expect(fitLinear(observed("%")).predict({ feed: 2, edge: "new" }).text).toMatch(
      / yield is \d+\.\d+ % \(/,
    );
  });

  test("on logarithms it is a ratio, and a share says of what", () => {
    const fit = fitLinear(observed("%"), { log: true });
    expect(fit.effects[0].sentence).toMatch(/multiplies yield by 1\.04\d*/);
    expect(contrast(fit, { feed: 1 }, { feed: 3 }).sentence).toMatch(/multiplies yield by 1\.04\d*/);
    expect(crossValidate(fit, { leave: "run" }).sentence).toMatch(/is missed by 0\.\d+ % of its value/);
  });

  test("other units are as they were", () => {
    expect(["µm", "", "1", "°C"].map(differenceUnit)).toEqual(["µm", "", "1", "°C"]);
    expect(fitLinear(observed("µm")).effects[0].sentence).toMatch(/raises yield by 4\.\d+ µm \(/);
  });
});
