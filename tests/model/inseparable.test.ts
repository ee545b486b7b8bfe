import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";

function table(
  settings: Readonly<Record<string, readonly (number | string)[]>>,
  response: readonly number[],
  block?: string,
) {
  const names = Object.keys(settings);
  return observeTable(
    {
      columns: [
        ...names.map((name) => ({ name, unit: "", values: settings[name] })),
        { name: "Ra", unit: "µm", values: response },
      ],
    },
    { response: "Ra", factors: names.filter((name) => name !== block), block },
  );
}

describe("terms that the runs can't tell apart", () => {
  test("feed and speed that moved together are named, and the effect is told as theirs together", () => {
    const fit = fitLinear(
      table({ feed: [0.1, 0.1, 0.2, 0.2], speed: [500, 500, 1000, 1000] }, [0.5, 0.6, 1.0, 1.1]),
    );
    expect(fit.inseparable).toEqual([
      {
        terms: [{ feed: 1 }, { speed: 1 }],
        labels: ["feed", "speed"],
        text: "feed and speed moved together in every run",
      },
    ]);
    expect(fit.coefficients.map(({ label }) => label)).toEqual(["intercept", "feed"]);
    expect(fit.effects.map(({ sentence }) => sentence)).toEqual([
      "Raising feed from 0.1 to 0.2 raises Ra by 0.50 µm (95 % 0.20 to 0.80). This may as well be due to speed: feed and speed moved together in every run.",
      "The effect of speed can't be told: feed and speed moved together in every run.",
    ]);
  });

  test("a prediction that hangs on them has no interval and says why; one along them has", () => {
    const fit = fitLinear(
      table({ feed: [0.1, 0.1, 0.2, 0.2], speed: [500, 500, 1000, 1000] }, [0.5, 0.6, 1.0, 1.1]),
    );
    const apart = fit.predict({ feed: 0.1, speed: 1000 });
    expect(apart.mean).toBeNull();
    expect(apart.extrapolation).toEqual(["terms that these runs can't tell apart"]);
    const along = fit.predict({ feed: 0.15, speed: 750 });
    expect(along.estimate).toBeCloseTo(0.8, 14);
    expect(along.mean).not.toBeNull();
  });

  test("aliases of a half fraction are the terms that lean on each other", () => {
    const a = [-1, 1, -1, 1];
    const b = [-1, -1, 1, 1];
    const c = a.map((value, i) => value * b[i]);
    const fit = fitLinear(table({ a, b, c }, [1, 2, 4, 9]), { model: "interactions" });
    expect(fit.inseparable.map(({ text }) => text)).toEqual([
      "c and a × b can't be told apart in these runs",
      "b and a × c can't be told apart in these runs",
      "a and b × c can't be told apart in these runs",
    ]);
    expect(fit.residualDf).toBe(0);
  });

  test("the same aliases are found in natural units, and the kept terms are told in natural units", () => {
    const coded = { a: [-1, 1, -1, 1], b: [-1, -1, 1, 1], c: [1, -1, -1, 1] };
    const natural = {
      a: coded.a.map((v) => 0.16 + 0.08 * v),
      b: coded.b.map((v) => 1500 + 500 * v),
      c: coded.c.map((v) => 30 + 10 * v),
    };
    const y = [1, 2, 4, 9];
    const [one, other] = [
      fitLinear(table(coded, y), { model: "interactions" }),
      fitLinear(table(natural, y), { model: "interactions" }),
    ];
    expect(other.inseparable.map(({ labels }) => labels)).toEqual(
      one.inseparable.map(({ labels }) => labels),
    );
    other.rows.forEach((row, i) => expect(row.fitted).toBeCloseTo(one.rows[i].fitted, 12));
    other.rows.forEach((row) => {
      const told = other.coefficients.reduce(
        (sum, { term, estimate }) =>
          sum +
          estimate * Object.entries(term).reduce((p, [name, d]) => p * Number(row.settings[name]) ** d, 1),
        0,
      );
      expect(told).toBeCloseTo(row.fitted, 10);
    });
  });

  test("more terms than runs is an answer", () => {
    const fit = fitLinear(table({ a: [1, 2, 3], b: [2, 1, 5], c: [1, 1, 2] }, [1, 2, 3]), {
      model: "surface",
    });
    expect(fit.residualDf).toBe(0);
    expect(fit.coefficients).toHaveLength(3);
    expect(fit.noInterval).not.toBe("");
    expect(fit.coefficients.every(({ low, high, p }) => low === null && high === null && p === null)).toBe(
      true,
    );
  });

  test("a bend at two settings, and a factor that stood still, are named as such", () => {
    const fit = fitLinear(table({ feed: [0.1, 0.2, 0.1, 0.2], depth: [1, 1, 1, 1] }, [1, 2, 1.1, 2.2]), {
      terms: [{ feed: 1 }, { feed: 2 }, { depth: 1 }],
    });
    expect(fit.inseparable.map(({ text }) => text)).toEqual([
      "feed² can't be told: feed was cut at 2 settings only, a bend needs one more",
      "depth stood at one setting in every run",
    ]);
  });

  test("a category that stood at one level is named, and a level that was never cut is left out with a note", () => {
    const still = fitLinear(
      table({ feed: [0.1, 0.2, 0.3], edge: ["fresh", "fresh", "fresh"] }, [1, 2, 3.1]),
      {
        model: "interactions",
      },
    );
    expect(still.inseparable.map(({ labels, text }) => [labels, text])).toEqual([
      [["edge"], "edge stood at one setting in every run"],
      [["feed × edge"], "edge stood at one setting in every run"],
    ]);
    const observations = table({ edge: ["fresh", "fresh", "used", "used"] }, [1, 1.1, 2, 2.2]);
    const [edge] = observations.factors;
    const wide = fitLinear({ ...observations, factors: [{ ...edge, levels: ["chipped", "fresh", "used"] }] });
    expect(wide.notes).toEqual([
      "edge chipped was never cut and is left out. Levels are compared with fresh.",
    ]);
    expect(wide.coefficients.map(({ label }) => label)).toEqual(["intercept", "edge used against fresh"]);
    expect(wide.inseparable).toEqual([]);
  });

  test("a category that moved with the blocks is named with them", () => {
    const fit = fitLinear(
      table(
        { day: ["Mon", "Mon", "Tue", "Tue"], edge: ["fresh", "fresh", "used", "used"] },
        [1, 1.1, 2, 2.3],
        "day",
      ),
    );
    expect(fit.inseparable[0].text).toBe("day and edge moved together in every run");
    expect(fit.analysis.map(({ source }) => source)).toEqual(["day", "residual"]);
  });

  test("in a power law a factor in step with another has no ratio of its own", () => {
    const fit = fitPowerLaw(
      table({ feed: [0.1, 0.1, 0.2, 0.4], speed: [500, 500, 1000, 2000] }, [0.5, 0.6, 1.0, 1.9]),
    );
    expect(fit.ratio("feed", 0.5)).toMatchObject({
      reason: "other terms moved along with feed in these runs",
    });
    expect(fit.ratio("speed", 0.5)).toMatchObject({
      estimate: null,
      reason: "the exponent of speed can't be told from these runs",
    });
  });
});
