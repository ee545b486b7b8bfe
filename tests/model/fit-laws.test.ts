import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";
import type { Fit, Observations } from "../../src/model/index.ts";

/** Runs in feed, speed and edge with a response, all from fast-check; enough runs for a surface in most cases. */
const runs = fc.array(
  fc.record({
    feed: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
    speed: fc.double({ min: 500, max: 3000, noNaN: true }),
    edge: fc.constantFrom("fresh", "used", "chipped"),
    Ra: fc.double({ min: 0.1, max: 5, noNaN: true }),
  }),
  { minLength: 6, maxLength: 24 },
);
type Run = { readonly feed: number; readonly speed: number; readonly edge: string; readonly Ra: number };

function observed(rows: readonly Run[], feedUnits = 1): Observations {
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "", values: rows.map(({ feed }) => feed * feedUnits) },
        { name: "speed", unit: "", values: rows.map(({ speed }) => speed) },
        { name: "edge", unit: "", values: rows.map(({ edge }) => edge) },
        { name: "Ra", unit: "µm", values: rows.map(({ Ra }) => Ra) },
      ],
    },
    { response: "Ra", factors: ["feed", "speed", "edge"] },
  );
}

const models = ["main", "interactions", "surface"] as const;
const fitted = (fit: Fit) => fit.rows.map((row) => row.fitted);

/** Fitted values lie within the scale of Ra, 5; runs drawn near each other make them hang on rounding of the settings. */
function expectSame(a: readonly number[], b: readonly number[]): void {
  a.forEach((value, i) => expect(Math.abs(value - b[i])).toBeLessThan(1e-7));
}

/** Settings that are nearly alike leave it to rounding whether a term can be told; such draws say nothing of a law. */
const clear = (...fits: readonly Fit[]) => fits.every((fit) => fit.inseparable.length === 0);

describe("laws of a fit", () => {
  test("rows in any order give the same fitted values and coefficients", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), fc.nat(), (rows, model, turn) => {
        const moved = rows.map((_, i) => (i + turn) % rows.length);
        const [a, b] = [
          fitLinear(observed(rows), { model }),
          fitLinear(observed(moved.map((i) => rows[i])), { model }),
        ];
        fc.pre(clear(a, b));
        expectSame(
          moved.map((i) => fitted(a)[i]),
          fitted(b),
        );
      }),
      { seed: 1, numRuns: 150 },
    );
  });

  test("another unit of a setting changes no fitted value", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), (rows, model) => {
        const [mm, inch] = [
          fitLinear(observed(rows), { model }),
          fitLinear(observed(rows, 1 / 25.4), { model }),
        ];
        fc.pre(clear(mm, inch));
        expectSame(fitted(mm), fitted(inch));
      }),
      { seed: 2, numRuns: 150 },
    );
  });

  test("coding changes no fitted value, no prediction and no residual scatter", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), (rows, model) => {
        const observations = observed(rows);
        const [natural, coded] = [
          fitLinear(observations, { model }),
          fitLinear(observations, { model, coded: true }),
        ];
        expectSame(fitted(natural), fitted(coded));
        expect(coded.residualSd).toBe(natural.residualSd);
        expect(coded.predict({ feed: 0.2, speed: 1000 }).mean).toEqual(
          natural.predict({ feed: 0.2, speed: 1000 }).mean,
        );
      }),
      { seed: 3, numRuns: 150 },
    );
  });

  test("residuals are at right angles to every term of the model", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), (rows, model) => {
        const fit = fitLinear(observed(rows), { model });
        for (const term of fit.terms) {
          if ("edge" in term) continue;
          const along = fit.rows.map((row) =>
            Object.entries(term).reduce((p, [name, d]) => p * Number(row.settings[name]) ** d, 1),
          );
          const size = Math.hypot(...along);
          // Rounding of a sum of products of this size; residuals themselves are of size 1.
          const dot = fit.rows.reduce((sum, row, i) => sum + row.residual * along[i], 0);
          expect(Math.abs(dot) / size).toBeLessThan(1e-12);
        }
      }),
      { seed: 4, numRuns: 150 },
    );
  });

  test("the natural coefficients reproduce the fitted values by plain arithmetic", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), (rows, model) => {
        const fit = fitLinear(observed(rows), { model });
        fc.pre(clear(fit));
        fit.rows.forEach((row) => {
          const terms = fit.coefficients.map(({ term, estimate }) =>
            Object.entries(term).reduce((p, [name, degree]) => {
              const [factor, level] = name.split("=");
              const setting = row.settings[factor];
              return p * (level === undefined ? Number(setting) ** degree : setting === level ? 1 : 0);
            }, estimate),
          );
          const size = terms.reduce((sum, term) => sum + Math.abs(term), 0);
          const sum = terms.reduce((total, term) => total + term, 0);
          expect(Math.abs(sum - row.fitted)).toBeLessThan(1e-13 * size + 1e-12);
        });
      }),
      { seed: 5, numRuns: 150 },
    );
  });

  test("sums of squares in order add up with the residual to the scatter about the mean", () => {
    fc.assert(
      fc.property(runs, fc.constantFrom(...models), (rows, model) => {
        const fit = fitLinear(observed(rows), { model });
        fc.pre(fit.residualDf > 0);
        const centre = rows.reduce((sum, { Ra }) => sum + Ra, 0) / rows.length;
        const total = rows.reduce((sum, { Ra }) => sum + (Ra - centre) ** 2, 0);
        const parts = fit.analysis.reduce((sum, row) => sum + row.sumOfSquares, 0);
        expect(Math.abs(parts - total)).toBeLessThan(1e-11 * (total + 1));
        expect(fit.analysis.reduce((sum, row) => sum + row.df, 0)).toBe(rows.length - 1);
      }),
      { seed: 6, numRuns: 150 },
    );
  });

  test("each term last costs what a fit without it loses", () => {
    fc.assert(
      fc.property(runs, (rows) => {
        const observations = observed(rows);
        const fit = fitLinear(observations, { model: "interactions" });
        fc.pre(clear(fit) && fit.residualDf > 0);
        const residual = (one: Fit) => one.rows.reduce((sum, row) => sum + row.residual ** 2, 0);
        // Only terms that no other builds on: without them the model is the same in any coding.
        for (const row of fit.analysisLast) {
          if (row.term === null || Object.keys(row.term).length < 2) continue;
          const without = fitLinear(observations, {
            terms: fit.terms.filter((term) => JSON.stringify(term) !== JSON.stringify(row.term)),
          });
          fc.pre(clear(without));
          const lost = residual(without) - residual(fit);
          expect(Math.abs(row.sumOfSquares - lost)).toBeLessThan(1e-8 * (1 + lost));
        }
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  test("a power law in another unit keeps its exponents, and its ratios undo each other", () => {
    fc.assert(
      fc.property(runs, (rows) => {
        const [mm, inch] = [fitPowerLaw(observed(rows)), fitPowerLaw(observed(rows, 1 / 25.4))];
        fc.pre(clear(mm, inch));
        const exponent = (fit: Fit) => fit.coefficients.find(({ label }) => label === "feed")!;
        expect(Math.abs(exponent(mm).estimate - exponent(inch).estimate)).toBeLessThan(
          1e-7 * (1 + (exponent(mm).standardError ?? 1)),
        );
        expect(mm.ratio("feed", 0.5).estimate! * mm.ratio("feed", 2).estimate!).toBeCloseTo(1, 10);
      }),
      { seed: 8, numRuns: 150 },
    );
  });

  test("nothing that is given is changed", () => {
    const deepFreeze = <T>(value: T): T => {
      if (typeof value === "object" && value !== null)
        Object.values(Object.freeze(value)).forEach(deepFreeze);
      return value;
    };
    const observations = deepFreeze(
      observed([1, 2, 3, 4, 5].map((k) => ({ feed: k / 10, speed: 1000 + (k % 2), edge: "fresh", Ra: k }))),
    );
    const terms = deepFreeze([{ feed: 1 }, { feed: 2 }]);
    expect(() => fitLinear(observations, deepFreeze({ terms })).effects).not.toThrow();
  });
});
