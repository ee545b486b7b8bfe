import { describe, expect, test } from "vitest";
import { layOut, type LayoutRequest } from "../../src/layout/index.ts";
import type { Factor, Run } from "../../src/trial/index.ts";
import { coded, feed, speed } from "./factors.ts";

/** An invented face: (180 + 40 + 5) mm of travel at feed times speed. */
const shop = {
  held: {},
  cutter: { diameter: "80 mm" },
  pass: { length: "180 mm", width: "60 mm", approach: "40 mm", overtravel: "5 mm" },
} satisfies Partial<LayoutRequest>;

function minutes(run: Run): number {
  return 225 / (Number(run.settings.feed) * Number(run.settings.speed));
}

/** A second road: the textbook correlation of a two-level setting with a polynomial of minutes at the middle of each pass. */
function driftCorrelations(runs: readonly Run[], name: string): { steady: number; bending: number } {
  let clock = 0;
  const times = runs.map((run) => {
    const middle = clock + minutes(run) / 2;
    clock += minutes(run);
    return middle;
  });
  const centred = (values: readonly number[]) => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return values.map((value) => value - mean);
  };
  const dot = (one: readonly number[], other: readonly number[]) =>
    one.reduce((sum, value, index) => sum + value * (other[index] ?? 0), 0);
  const setting = centred(runs.map((run) => Number(run.settings[name])));
  const steady = centred(times);
  const squares = centred(steady.map((value) => value * value));
  const share = dot(squares, steady) / dot(steady, steady);
  const bending = squares.map((value, index) => value - share * (steady[index] ?? 0));
  const correlation = (other: readonly number[]) =>
    dot(setting, other) / Math.sqrt(dot(setting, setting) * dot(other, other));
  return { steady: correlation(steady), bending: correlation(bending) };
}

function planned(factors: readonly Factor[], layout: Record<string, unknown> = {}) {
  return layOut({
    ...shop,
    factors,
    layout: { kind: "factorial", order: "drift-proof", seed: 3, ...layout },
  });
}

describe("a drift-proof order where feed and speed make passes short and long", () => {
  // Words of clock letters with whole cycles of feed by speed: Cheng and Jacroux 1988, carried over to equal cycles of unequal passes.
  test.each([4, 5, 6, 7])("2^%i: a steady drift in minutes of cut moves no main effect", (count) => {
    const factors = [feed, speed, ...coded(count - 2)];
    const { runs, orderRules } = planned(factors);
    for (const { name } of factors)
      expect(Math.abs(driftCorrelations(runs, name).steady)).toBeLessThan(1e-13);
    expect(orderRules[0]).toMatch(
      /^Drift-proof order by construction from seed 3: a steady drift moves no main effect; the largest correlation of a main effect with a bending drift is 0\.\d+ \(.*\)\.$/,
    );
    expect(orderRules[1]).toBe("Drift is measured in minutes of cut, up to the middle of each pass.");
  });

  test.each([
    [4, 0.03],
    [5, 0.01],
    [6, 0.005],
  ])("2^%i: a bending drift moves main effects by less than %d, as its sentence says", (count, most) => {
    const factors = [feed, speed, ...coded(count - 2)];
    const { runs, orderRules } = planned(factors);
    const largest = Math.max(...factors.map(({ name }) => Math.abs(driftCorrelations(runs, name).bending)));
    expect(largest).toBeLessThan(most);
    const said = Number(/bending drift is (0\.\d+)/.exec(orderRules[0] ?? "")?.[1]);
    expect(Math.abs(said - largest)).toBeLessThan(0.0005 + 1e-9);
  });

  test("an order that is exact in run numbers is not so in minutes, which is why minutes count", () => {
    const factors = [feed, speed, ...coded(2)];
    const { runs } = layOut({ factors, layout: { kind: "factorial", order: "drift-proof", seed: 3 } });
    expect(
      Math.max(...factors.map(({ name }) => Math.abs(driftCorrelations(runs, name).steady))),
    ).toBeGreaterThan(0.02);
  });

  test("three levels in duplicate: an order that turns back keeps a steady drift out of every main effect", () => {
    const { runs, orderRules } = planned([feed, speed], { levels: 3, replicates: 2 });
    const settings = runs.map((run) => JSON.stringify(run.settings));
    expect(settings).toEqual([...settings].reverse());
    for (const name of ["feed", "speed"]) {
      expect(Math.abs(driftCorrelations(runs, name).steady)).toBeLessThan(1e-13);
      expect(Math.abs(driftCorrelations(runs, name).bending)).toBeLessThan(0.02);
    }
    expect(orderRules[0]).toContain("whose second half is the first one backwards");
  });

  test("runs of equal length: minutes say the same as run numbers, and the order is the same", () => {
    const factors = coded(4);
    const fixed = {
      ...shop,
      held: { feed: "0.1 mm/rev", speed: "1000 rev/min" },
      factors,
      layout: { kind: "factorial", order: "drift-proof", seed: 5 },
    };
    const { runs, orderRules } = layOut(fixed);
    expect(runs).toEqual(layOut({ factors, layout: fixed.layout }).runs);
    expect(orderRules).toEqual([
      "Drift-proof order by construction, which of the equal orders drawn from seed 5: neither a steady nor a bending drift moves a main effect.",
      "Drift is measured in minutes of cut, up to the middle of each pass.",
    ]);
  });

  test("says what is wanted where minutes can't be reckoned", () => {
    const { orderRules } = layOut({
      held: {},
      factors: [feed, speed],
      layout: { kind: "factorial", order: "drift-proof" },
    });
    expect(orderRules[1]).toMatch(/^Drift is counted in runs, not in minutes of cut: wants the length/);
  });
});

describe("protected terms", () => {
  test("are kept clear of drift in place of the main effects: a 2^4 and two interactions", () => {
    const protect = [{ A: 1 }, { B: 1 }, { C: 1 }, { A: 1, B: 1 }, { B: 1, C: 1 }];
    const { runs, orderRules } = layOut({
      factors: coded(4),
      layout: { kind: "factorial", order: "drift-proof", protect, seed: 2 },
    });
    const time = runs.map((_, place) => place - 7.5);
    for (const term of protect) {
      const sum = runs.reduce(
        (total, run, place) =>
          total +
          (time[place] ?? 0) *
            Object.keys(term).reduce((product, name) => product * Number(run.settings[name]), 1),
        0,
      );
      expect(sum).toBe(0);
    }
    expect(orderRules[0]).toContain("a steady drift moves no protected term");
  });

  test("are refused where the order protects nothing, and where a name is wrong", () => {
    const refused = (layout: Record<string, unknown>) => () =>
      layOut({ factors: coded(2), layout: { kind: "factorial", ...layout } });
    expect(refused({ protect: [{ A: 1 }] })).toThrow(
      'layout.protect: the order "random" protects no term. Take "order": "drift-proof", or leave "protect" out.',
    );
    expect(refused({ order: "drift-proof", protect: [{ X: 1 }] })).toThrow(
      'terms: "X" is not a factor of this trial. It has A and B.',
    );
  });
});
