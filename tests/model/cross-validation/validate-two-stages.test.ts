import { describe, expect, test } from "vitest";
import { layOut } from "../../../src/layout/index.ts";
import {
  fitLinear,
  observeTable,
  twoStageScreening,
  validateTwoStages,
  type Observations,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";

const names = ["a", "b", "c", "d", "e", "f"];

/** A definitive screening of six columns; with four of them taken for factors, two pairs more are left to show the scatter. */
function screened(
  { extra, factors = names }: { readonly extra: number; readonly factors?: readonly string[] },
  truth: (at: Readonly<Record<string, number>>) => number,
): Observations {
  const { runs } = layOut({
    factors: names.map((name) => ({
      kind: "quantity" as const,
      name,
      unit: "mm" as const,
      low: -1,
      high: 1,
      scale: "linear" as const,
      change: "easy" as const,
    })),
    layout: { kind: "definitive-screening", extra },
  });
  const random = seededRandom(11);
  const at = runs.map(({ settings }) => settings as Readonly<Record<string, number>>);
  return observeTable(
    {
      columns: [
        ...names.map((name) => ({ name, unit: "", values: at.map((settings) => settings[name]) })),
        { name: "y", unit: "", values: at.map((settings) => truth(settings) + 0.2 * random.normal()) },
      ],
    },
    { response: "y", factors },
  );
}

const four = { extra: 2, factors: ["a", "b", "c", "d"] };

/** The second road: run by run, its mirror found by its settings, the two stages without both, the fit with the mirror back. */
function byHand(observations: Observations): (number | null)[] {
  const own = observations.factors.map(({ name }) => name);
  return observations.rows.map((row) => {
    const rest = { ...observations, rows: observations.rows.filter((one) => one !== row) };
    const isCentre = own.every((name) => row.settings[name] === 0);
    const withoutMirror = rest.rows.filter(
      (one) => isCentre || !own.every((name) => Number(one.settings[name]) === -Number(row.settings[name])),
    );
    const found = twoStageScreening({ ...observations, rows: withoutMirror });
    if (!found.possible) return null;
    return Number(fitLinear(rest, { terms: found.fitTerms }).predict(row.settings).estimate);
  });
}

describe("what a choice in two stages costs", () => {
  test("each run is predicted by the choice made anew without it and its mirror", () => {
    const clear = screened(four, (at) => 10 + 3 * at["a"] - 2 * at["d"] + 2.5 * at["a"] * at["d"]);
    const told = validateTwoStages(clear);
    const other = byHand(clear);
    expect(other.filter((value) => value !== null).length).toBeGreaterThanOrEqual(16);
    told.rows.forEach(({ predicted }, i) => {
      if (other[i] === null) expect(predicted).toBeNull();
      else expect(predicted).toBeCloseTo(other[i], 9);
    });
    expect(told.parts).toBe(17);
    expect(told.widening).not.toBeNull();
    expect(told.fit.chosenFrom?.widening).toBe(told.widening);
    expect(told.sentence).toMatch(
      /^With the choice made anew, runs left out are missed by .*a .*every time/s,
    );
  });

  test("of factors that do nothing but by luck, choosing anew misses by no less than the model kept", () => {
    const told = validateTwoStages(screened(four, () => 10));
    expect(told.widening).toBeGreaterThanOrEqual(1);
    expect(told.predictiveSd).not.toBeNull();
  });

  test("where a pair less leaves hardly a degree of freedom, the figures come with that caution and no widening", () => {
    const told = validateTwoStages(screened({ extra: 2 }, (at) => 10 + 3 * at["a"] - 2 * at["d"]));
    expect(told.widening).toBeNull();
    expect(told.fit.chosenFrom?.widening).toBeUndefined();
    // Eight pairs less six factors.
    expect(told.sentence).toMatch(
      /runs left out are missed by .* That overstates what the choice costs: .* judged by 1 degree of freedom in place of 2, so fewer stand out\./,
    );
  });

  test("runs without a pair to spare are said to be too few, and no widening is told", () => {
    // Six factors in six pairs: only the two middles show the scatter, and without a pair the factors can't all be told.
    const bare = screened({ extra: 0 }, (at) => 10 + 3 * at["a"]);
    const centre = bare.rows.find(({ settings }) => names.every((name) => settings[name] === 0))!;
    const most = Math.max(...bare.rows.map(({ run }) => run));
    const twice = {
      ...bare,
      rows: [...bare.rows, { ...centre, run: most + 1, value: centre.value + 0.1 }],
    };
    expect(twoStageScreening(twice).possible).toBe(true);
    const told = validateTwoStages(twice);
    expect(told.widening).toBeNull();
    expect(told.fit.chosenFrom).toEqual({
      how: "what stands out in two stages of screening of these same runs",
    });
    expect(told.sentence).toMatch(
      /it can be made anew for only \d+ of 14 runs: too few to tell what it costs\./,
    );
  });

  test("runs that don't mirror one another are refused with the reason", () => {
    const { rows, ...rest } = screened({ extra: 2 }, (at) => at["a"]);
    expect(() => validateTwoStages({ ...rest, rows: rows.slice(1) })).toThrow("don't mirror one another");
  });
});
