import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor, Settings } from "../../src/trial/index.ts";
import { coded, coolant } from "./factors.ts";
import { choices, information, lossOf, type Row } from "./plain-information.ts";

const plan = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "optimal", order: "as-listed", ...layout } });
const criteria = ["D", "A", "I"] as const;
const [x, y] = coded(2).map((factor, index) => ({ ...factor, name: ["x", "y"][index] }));
const hard = { ...x, name: "w", change: "hard" as const };

/** The least loss over every choice of so many of the points. */
function bestOfAll(
  rows: readonly Row[],
  runs: number,
  criterion: "D" | "A" | "I",
  moments: readonly Row[] = [],
) {
  let best = Number.POSITIVE_INFINITY;
  for (const design of choices(rows, runs)) {
    const loss = lossOf(information(design), criterion, moments);
    if (loss < best) best = loss;
  }
  return best;
}

/** Found and best agree to rounding: they are sums and products of a few dozen numbers of size 1. */
const sameLoss = (found: number, best: number) => expect(found / best).toBeCloseTo(1, 9);

describe("the layout found is the best of every one that there is", () => {
  // Means over x from −1 to 1 of the products of 1, x, x²; categories in equal shares, Helmert columns of mean square 1.
  const helmert = [
    [-Math.sqrt(1.5), -Math.sqrt(0.5)],
    [Math.sqrt(1.5), -Math.sqrt(0.5)],
    [0, Math.sqrt(2)],
  ];
  test.each(criteria)(
    "by %s for a quantity in steps of the machine and a category of three levels",
    (criterion) => {
      const steps = { ...x, low: -1, high: 1, increment: 0.5 };
      const row = (value: number, level: number): Row => [1, value, value * value, ...helmert[level]];
      const moments = [
        [1, 0, 1 / 3, 0, 0],
        [0, 1 / 3, 0, 0, 0],
        [1 / 3, 0, 1 / 5, 0, 0],
        [0, 0, 0, 1, 0],
        [0, 0, 0, 0, 1],
      ];
      const all = [-1, -0.5, 0, 0.5, 1].flatMap((value) => [0, 1, 2].map((level) => row(value, level)));
      const best = bestOfAll(all, 5, criterion, moments);
      const layout = plan([steps, coolant], {
        runs: 5,
        criterion,
        terms: [{ x: 1 }, { x: 2 }, { coolant: 1 }],
      });
      const found = layout.runs.map(({ settings }) =>
        row(Number(settings.x), coolant.levels.indexOf(String(settings.coolant))),
      );
      sameLoss(lossOf(information(found), criterion, moments), best);
    },
  );

  test.each(criteria)("by %s with a corner of the region forbidden", (criterion) => {
    const factors = [x, y].map((factor) => ({ ...factor, levels: [-1, -0.5, 0, 0.5, 1] }));
    const allowed = (a: number, b: number) => a + b <= 0.5 && !(a === -1 && b === -1);
    const row = (a: number, b: number): Row => [1, a, b, a * b];
    const moments = [
      [1, 0, 0, 0],
      [0, 1 / 3, 0, 0],
      [0, 0, 1 / 3, 0],
      [0, 0, 0, 1 / 9],
    ];
    const levels = [-1, -0.5, 0, 0.5, 1];
    const all = levels.flatMap((a) => levels.filter((b) => allowed(a, b)).map((b) => row(a, b)));
    const best = bestOfAll(all, 5, criterion, moments);
    const constraints = [{ sum: { x: 1, y: 1 }, atMost: 0.5 }, { never: { x: -1, y: -1 } }];
    const layout = plan(factors, { runs: 5, criterion, terms: "interactions", constraints });
    for (const { settings } of layout.runs)
      expect(allowed(Number(settings.x), Number(settings.y))).toBe(true);
    const found = layout.runs.map(({ settings }) => row(Number(settings.x), Number(settings.y)));
    sameLoss(lossOf(information(found), criterion, moments), best);
  });

  test.each(criteria)("by %s around runs that are kept, one of them outside the range", (criterion) => {
    const keep = [
      { x: 0.25, y: 1.5 },
      { x: -1, y: 0 },
    ];
    const factors = [x, y].map((factor) => ({ ...factor, levels: [-1, 0, 1] }));
    const row = ({ x: a, y: b }: Settings): Row => [
      1,
      Number(a),
      Number(b),
      Number(a) * Number(b),
      Number(b) ** 2,
    ];
    const moments = [
      [1, 0, 0, 0, 1 / 3],
      [0, 1 / 3, 0, 0, 0],
      [0, 0, 1 / 3, 0, 0],
      [0, 0, 0, 1 / 9, 0],
      [1 / 3, 0, 0, 0, 1 / 5],
    ];
    const all = [-1, 0, 1].flatMap((a) => [-1, 0, 1].map((b) => row({ x: a, y: b })));
    let best = Number.POSITIVE_INFINITY;
    for (const design of choices(all, 5))
      best = Math.min(best, lossOf(information([...keep.map(row), ...design]), criterion, moments));
    const terms = [{ x: 1 }, { y: 1 }, { x: 1, y: 1 }, { y: 2 }];
    const layout = plan(factors, { runs: 7, criterion, terms, keep });
    expect(layout.runs.slice(0, 2).map((run) => run.settings)).toEqual(keep);
    sameLoss(lossOf(information(layout.runs.map((run) => row(run.settings))), criterion, moments), best);
  });
});

describe("with whole plots", () => {
  /** The least loss over every choice of whole plots, each one setting of the hard factor and some runs. */
  function bestPlots(
    plots: readonly (readonly Row[])[],
    count: number,
    varianceRatio: number,
    criterion: "D" | "A" | "I",
    moments: readonly Row[] = [],
  ) {
    // The information is a sum over the whole plots.
    const parts = plots.map((rows) =>
      information(
        rows,
        rows.map(() => 0),
        varianceRatio,
      ),
    );
    let best = Number.POSITIVE_INFINITY;
    for (const chosen of choices(parts, count)) {
      const total = chosen[0].map((row, i) =>
        row.map((_, j) => chosen.reduce((sum, part) => sum + part[i][j], 0)),
      );
      best = Math.min(best, lossOf(total, criterion, moments));
    }
    return best;
  }
  const lossOfLayout = (
    layout: ReturnType<typeof plan>,
    row: (settings: Settings) => Row,
    varianceRatio: number,
    criterion: "D" | "A" | "I",
    moments: readonly Row[] = [],
  ) =>
    lossOf(
      information(
        layout.runs.map((run) => row(run.settings)),
        layout.runs.map((run) => run.wholePlot ?? 0),
        varianceRatio,
      ),
      criterion,
      moments,
    );

  test.each(
    criteria.flatMap((criterion) => [0.25, 1, 10].map((varianceRatio) => ({ criterion, varianceRatio }))),
  )(
    "by $criterion, a variance ratio of $varianceRatio, two levels, 4 whole plots of 2 runs",
    ({ criterion, varianceRatio }) => {
      const factors = [hard, x, y].map((factor) => ({ ...factor, levels: [-1, 1] }));
      const row = (settings: Settings): Row => {
        const [w, a, b] = ["w", "x", "y"].map((name) => Number(settings[name]));
        return [1, w, a, b, w * a, w * b];
      };
      const moments = [1, 1, 1, 1, 1, 1].map((_, i) =>
        [0, 1, 2, 3, 4, 5].map((j) => (i !== j ? 0 : i === 0 ? 1 : i < 4 ? 1 / 3 : 1 / 9)),
      );
      const ends = [-1, 1];
      const plots = ends.flatMap((w) => [
        ...choices(
          ends.flatMap((a) => ends.map((b) => row({ w, x: a, y: b }))),
          2,
        ),
      ]);
      const best = bestPlots(plots, 4, varianceRatio, criterion, moments);
      const terms = [{ w: 1 }, { x: 1 }, { y: 1 }, { w: 1, x: 1 }, { w: 1, y: 1 }];
      const layout = plan(factors, { runs: 8, wholePlots: 4, varianceRatio, criterion, terms });
      sameLoss(lossOfLayout(layout, row, varianceRatio, criterion, moments), best);
    },
  );

  test.each(criteria)("by %s, a hard quantity with its square, 4 whole plots of 2 runs", (criterion) => {
    const factors = [
      { ...hard, levels: [-1, 0, 1] },
      { ...x, levels: [-1, 0, 1] },
    ];
    const row = ({ w, x: a }: Settings): Row => [
      1,
      Number(w),
      Number(w) ** 2,
      Number(a),
      Number(w) * Number(a),
    ];
    const moments = [
      [1, 0, 1 / 3, 0, 0],
      [0, 1 / 3, 0, 0, 0],
      [1 / 3, 0, 1 / 5, 0, 0],
      [0, 0, 0, 1 / 3, 0],
      [0, 0, 0, 0, 1 / 9],
    ];
    const plots = [-1, 0, 1].flatMap((w) => [
      ...choices(
        [-1, 0, 1].map((a) => row({ w, x: a })),
        2,
      ),
    ]);
    const best = bestPlots(plots, 4, 1, criterion, moments);
    const terms = [{ w: 1 }, { w: 2 }, { x: 1 }, { w: 1, x: 1 }];
    const layout = plan(factors, { runs: 8, wholePlots: 4, criterion, terms });
    sameLoss(lossOfLayout(layout, row, 1, criterion, moments), best);
  });

  test("every run of a whole plot has one setting of the hard factors, also under a constraint and around kept runs", () => {
    const keep = [
      { w: 1, x: 0, y: 0 },
      { w: 1, x: 1, y: -1 },
      { w: -1, x: 1, y: 1 },
    ];
    const layout = plan([hard, x, y], {
      runs: 18,
      wholePlots: 5,
      terms: "surface",
      keep,
      constraints: [{ sum: { w: 1, x: 1 }, atMost: 1.3 }],
      starts: 10,
    });
    const settings = new Map<number, Set<unknown>>();
    for (const run of layout.runs) {
      const plot = run.wholePlot ?? 0;
      settings.set(plot, (settings.get(plot) ?? new Set()).add(run.settings.w));
      if (run.role !== "given")
        expect(Number(run.settings.w) + Number(run.settings.x)).toBeLessThanOrEqual(1.3 + 1e-9);
    }
    expect(settings.size).toBe(7);
    for (const own of settings.values()) expect(own.size).toBe(1);
    expect(layout.notes[1]).toBe(
      "7 set-ups (whole plots), each with one setting of w, 2 of them with runs that are kept; the search took the variance between them to be 1 times the variance between runs.",
    );
  });
});
