import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { judge, layOut } from "../../src/layout/index.ts";
import type { Factor, Settings } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed, speed } from "./factors.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "optimal", order: "as-listed", ...layout } });
const refusal = (factors: readonly Factor[], layout: Record<string, unknown>) => {
  try {
    plan(factors, layout);
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};
const named = (count: number) => coded(count).map((factor, index) => ({ ...factor, name: `x${index + 1}` }));

/** A second road: |X′X| by Gaussian elimination on rows written out by hand. */
function determinant(rows: readonly (readonly number[])[]): number {
  const size = rows[0]?.length ?? 0;
  const cross = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_unused, j) =>
      rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0),
    ),
  );
  let product = 1;
  for (let pivot = 0; pivot < size; pivot += 1) {
    const best = cross.findIndex(
      (row, index) =>
        index >= pivot &&
        Math.abs(row[pivot] ?? 0) ===
          Math.max(...cross.slice(pivot).map((other) => Math.abs(other[pivot] ?? 0))),
    );
    const swapped = cross[pivot] ?? [];
    cross[pivot] = cross[best] ?? [];
    cross[best] = swapped;
    const lead = cross[pivot]?.[pivot] ?? 0;
    product *= best === pivot ? lead : -lead;
    if (Math.abs(lead) < 1e-9) return 0;
    for (let row = pivot + 1; row < size; row += 1) {
      const share = (cross[row]?.[pivot] ?? 0) / lead;
      cross[row] = (cross[row] ?? []).map((value, column) => value - share * (cross[pivot]?.[column] ?? 0));
    }
  }
  return product;
}

describe("a saturated two-level optimal layout", () => {
  const { orders } = JSON.parse(
    readFileSync(new URL("../fixtures/layouts/largest-determinants.json", import.meta.url), "utf8"),
  ) as { orders: Record<string, { determinant: string; efficiency: number }> };

  test.each(Array.from({ length: 18 }, (_, index) => index + 3))(
    "of %i runs reaches the largest known determinant from each of ten seeds",
    (runs) => {
      const factors = named(runs - 1);
      for (let seed = 1; seed <= 10; seed += 1) {
        const layout = plan(factors, { runs, terms: "main", seed, starts: 10 });
        const rows = layout.runs.map((run) => [
          1,
          ...factors.map((factor) => Number(run.settings[factor.name])),
        ]);
        const efficiency = determinant(rows) ** (1 / runs) / runs;
        expect(efficiency).toBeCloseTo(orders[String(runs)]?.efficiency ?? 0, 8); // printed to 9 figures
      }
    },
    120_000,
  );
});

describe("an optimal layout of a case small enough to try every design", () => {
  /** Best |X′X| over all multisets of so many runs out of the candidates. */
  function bestOfAll(
    rows: readonly (readonly number[])[],
    runs: number,
    from = 0,
    chosen: (readonly number[])[] = [],
  ): number {
    if (chosen.length === runs) return determinant(chosen);
    let best = 0;
    for (let index = from; index < rows.length; index += 1) {
      best = Math.max(best, bestOfAll(rows, runs, index, [...chosen, rows[index] ?? []]));
    }
    return best;
  }
  const grid = [-1, 0, 1];

  test.each([6, 7])("two factors, full surface, %i runs on three levels", (runs) => {
    const factors = named(2).map((factor) => ({ ...factor, levels: grid }));
    const row = (a: number, b: number) => [1, a, b, a * b, a * a, b * b];
    const best = bestOfAll(
      grid.flatMap((a) => grid.map((b) => row(a, b))),
      runs,
    );
    const layout = plan(factors, { runs, terms: "surface", starts: 30 });
    const found = determinant(
      layout.runs.map((run) => row(Number(run.settings.x1), Number(run.settings.x2))),
    );
    expect(found).toBeCloseTo(best, 6);
  });

  test.each([4, 5, 6])("three factors, main effects, %i runs on two levels", (runs) => {
    const ends = [-1, 1];
    const best = bestOfAll(
      ends.flatMap((a) => ends.flatMap((b) => ends.map((c) => [1, a, b, c]))),
      runs,
    );
    const layout = plan(named(3), { runs, terms: "main" });
    const rows = layout.runs.map((run) => [
      1,
      ...named(3).map((factor) => Number(run.settings[factor.name])),
    ]);
    expect(determinant(rows)).toBeCloseTo(best, 6);
  });

  test("a quantity and a category of three levels, with their product, 7 runs", () => {
    const factors = [{ ...feed, low: -1, high: 1 }, coolant];
    // Helmert columns of three levels, as the plain formula has them.
    const basis = [
      [-1, -1],
      [1, -1],
      [0, 2],
    ];
    const row = (x: number, level: number) => {
      const [a = 0, b = 0] = basis[level] ?? [];
      return [1, x, a, b, x * a, x * b];
    };
    const best = bestOfAll(
      [-1, 1].flatMap((x) => [0, 1, 2].map((level) => row(x, level))),
      7,
    );
    const layout = plan(factors, { runs: 7, terms: "interactions" });
    const found = determinant(
      layout.runs.map((run) =>
        row(Number(run.settings.feed), coolant.levels.indexOf(String(run.settings.coolant))),
      ),
    );
    expect(found).toBeCloseTo(best, 6);
  });
});

describe("constraints", () => {
  test("hold in every run, and the best of what is left is found", () => {
    const factors = [
      { ...feed, increment: 0.01 },
      { ...speed, increment: 50 },
    ];
    const layout = plan(factors, {
      runs: 8,
      terms: "surface",
      constraints: [{ sum: { feed: 1000, speed: 0.2 }, atMost: 440 }, { never: { feed: 0.08, speed: 800 } }],
    });
    for (const run of layout.runs) {
      expect(1000 * Number(run.settings.feed) + 0.2 * Number(run.settings.speed)).toBeLessThanOrEqual(
        440 + 1e-9,
      );
      expect([run.settings.feed, run.settings.speed]).not.toEqual([0.08, 800]);
    }
    expect(judge(layout.runs, factors, { model: "surface", sigma: 1 }).inseparable).toEqual([]);
  });

  test("may be what follows from the cut: removal rate, speed, tool life", () => {
    const trial = {
      factors: [feed, speed],
      held: { depth: "1 mm" },
      cutter: { diameter: "80 mm", teeth: 1 },
      pass: { width: "50 mm" },
    };
    const layout = layOut({
      ...trial,
      layout: {
        kind: "optimal",
        runs: 8,
        terms: "interactions",
        constraints: [
          { limit: "removal rate", atMost: "12 cm³/min" },
          { limit: "tool life", exponent: 0.25, constant: "600 m/min", atLeast: "20 min" },
        ],
      },
    });
    for (const run of layout.runs) {
      const [f, n] = [Number(run.settings.feed), Number(run.settings.speed)];
      expect(f * n * 50 * 1e-3).toBeLessThanOrEqual(12 * (1 + 1e-9));
      expect((600 / ((Math.PI * 80 * n) / 1000)) ** 4).toBeGreaterThanOrEqual(20 * (1 - 1e-9));
    }
  });

  test("given as functions hold too", () => {
    const layout = layOut(
      { factors: [feed, edge], layout: { kind: "optimal", runs: 6, terms: "main" } },
      {
        allow: [
          (settings: Settings) =>
            settings.edge === "used" && Number(settings.feed) > 0.2 ? "too rough" : null,
        ],
      },
    );
    expect(layout.runs.some((run) => run.settings.edge === "used" && Number(run.settings.feed) > 0.2)).toBe(
      false,
    );
  });

  test("that leave no room are refused", () => {
    expect(
      refusal([feed, speed], { runs: 8, terms: "main", constraints: [{ sum: { feed: 1 }, atMost: 0.01 }] }),
    ).toBe(
      "layout.constraints: none of 4,000 settings drawn over the ranges is allowed (the last because 1 × feed is above 0.01). Loosen a constraint or widen a range.",
    );
  });
});

describe("runs that are kept", () => {
  test("stand in the layout unchanged, and the new ones fill what they lack", () => {
    const keep = [
      { feed: 0.08, speed: 800 },
      { feed: 0.1, speed: 900 },
      { feed: 0.24, speed: 1250 },
    ];
    const layout = plan([feed, speed], { runs: 6, terms: "main", keep });
    expect(layout.runs.filter((run) => run.role === "given").map((run) => run.settings)).toEqual(keep);
    const alone = judge(
      keep.map((settings) => ({ block: 1, settings })),
      [feed, speed],
      { sigma: 1 },
    );
    const together = judge(layout.runs, [feed, speed], { sigma: 1 });
    expect(together.terms[0]?.standardError).toBeLessThan((alone.terms[0]?.standardError ?? 0) / 2);
  });
});

test("lesser terms are told as far as runs are left: more terms than runs are no fault then", () => {
  const lesserTerms: Readonly<Record<string, number>>[] = [
    { x1: 1, x2: 1 },
    { x1: 1, x3: 1 },
    { x2: 1, x3: 1 },
    { x1: 1, x4: 1 },
    { x2: 1, x4: 1 },
    { x3: 1, x4: 1 },
  ];
  const layout = plan(named(4), { runs: 8, terms: "main", lesserTerms });
  // The half fraction of resolution IV: main effects clear of every product of two.
  const judged = judge(layout.runs, named(4), {
    terms: [...named(4).map((factor) => ({ [factor.name]: 1 })), ...lesserTerms.slice(0, 3)],
    sigma: 1,
  });
  expect(judged.efficiency.D).toBeCloseTo(1, 9);
});

test("blocks are part of the search: main effects stay clear of them where the size allows", () => {
  const layout = plan(named(3), { runs: 8, terms: "main", blocks: 2 });
  const judged = judge(layout.runs, named(3), { sigma: 1 });
  expect(judged.efficiency.D).toBeCloseTo(1, 9);
  expect(layout.runs.filter((run) => run.block === 2)).toHaveLength(4);
});

test("settings stay on the machine's increments", () => {
  const factor = { ...feed, low: 0.08, high: 0.24, increment: 0.03 };
  const layout = plan([factor, speed], { runs: 10, terms: "surface" });
  for (const run of layout.runs) expect([0.09, 0.12, 0.15, 0.18, 0.21, 0.24]).toContain(run.settings.feed);
});

test("the same seed gives the same layout, and the note tells the spread of the starts", () => {
  const one = plan([feed, speed, coolant], { runs: 14, terms: "interactions", seed: 3 });
  expect(plan([feed, speed, coolant], { runs: 14, terms: "interactions", seed: 3 })).toEqual(one);
  expect(one.notes[0]).toMatch(
    /^Best of 40 starts by D: D-efficiency 0\.\d+ of X′X = n·I; \d+ starts reached it, the middle one came to \d+\.\d % of it, the worst to \d+\.\d %\.$/,
  );
});

describe("what an optimal layout refuses", () => {
  test("fewer runs than terms, with the number that works", () => {
    expect(refusal(named(3), { runs: 5, terms: "surface" })).toBe(
      'layout.runs: 10 terms (the mean among them) can\'t be told by 5 runs. Take at least 10, better 14, or move terms to "lesserTerms".',
    );
  });
  test("terms that no setting can tell apart", () => {
    expect(
      refusal(
        named(2).map((factor) => ({ ...factor, levels: [-1, 1] })),
        { runs: 9, terms: "surface" },
      ),
    ).toBe(
      'layout "optimal": no choice of 9 runs found tells all the terms apart. Loosen a constraint, add levels or runs, or ask for fewer terms.',
    );
  });
  test("an unknown factor in a term", () => {
    expect(refusal([feed], { terms: [{ fed: 1 }] })).toBe(
      'terms: "fed" is not a factor of this trial. It has feed.',
    );
  });
});
