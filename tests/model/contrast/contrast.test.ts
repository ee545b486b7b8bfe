import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  contrast,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  isInterval,
  observeTable,
  type Contrast,
  type Fit,
} from "../../../src/model/index.ts";
import { byR, inverted, observed, products, table, weight, type ByR } from "./by-r.ts";

/** Digits: both sides are double precision, R's through a plain QR of natural columns; 9 of 15 are left for its condition. */
function expectAsByR(found: Contrast, known: ByR, digits = 9): void {
  const back = (value: number): number => (found.as === "ratio" ? Math.exp(value) : value);
  const near = (value: number | null, other: number): void =>
    expect(Math.abs(value! / other - 1)).toBeLessThan(10 ** -digits);
  near(found.value.estimate, back(known.estimate));
  near(found.standardError, known.standardError);
  expect(found.df!).toBeCloseTo(known.df, 4);
  expect(Math.abs(found.p! / known.p - 1)).toBeLessThan(1e-5);
  if (!isInterval(found.value)) throw new Error("an interval was expected");
  if (known.low !== undefined) near(found.value.low, back(known.low));
  if (known.high !== undefined) near(found.value.high, back(known.high));
}

describe("what going from one setting to another does", () => {
  const linear = fitLinear(observed("day"), { terms: products });
  const fromBoth = { feed: 0.2, speed: 300, edge: "used" };
  const toBoth = { feed: 0.1, speed: 150, edge: "honed" };

  test("is what R's lm says: products, a square, blocks averaged, several factors at once", () => {
    expectAsByR(contrast(linear, fromBoth, toBoth), byR.linear.both);
    expectAsByR(contrast(linear, { feed: 0.24 }, { feed: 0.08 }), byR.linear.feedOverEdges);
    expectAsByR(
      contrast(linear, { feed: 0.1, edge: "fresh" }, { edge: "used" }, { confidence: 0.9 }),
      byR.linear.at90,
    );
  });

  test("is a ratio on logarithms, with factors that were not named at their geometric middle", () => {
    const law = fitPowerLaw(observed(), {
      terms: [{ feed: 1 }, { edge: 1 }, { speed: 1 }, { feed: 1, edge: 1 }],
    });
    expectAsByR(contrast(law, fromBoth, toBoth), byR.law.both);
    const edges = contrast(law, { edge: "fresh" }, { edge: "used" });
    expectAsByR(edges, byR.law.edgeAtMiddle);
    expect(edges.stands).toEqual([{ factor: "feed", text: "feed 0.1386 mm/rev" }]);
  });

  test("takes weights as R's lm does", () => {
    const fit = fitLinear(observed(), { weights: weight.map(Number) });
    expectAsByR(contrast(fit, fromBoth, { ...toBoth, edge: "fresh" }), byR.weighted);
  });

  test("has degrees of freedom of its own in a mixed fit, as lmerTest's contest1D", () => {
    const oats = JSON.parse(
      readFileSync(new URL("../../fixtures/mixed/oats-split-plot.json", import.meta.url), "utf8"),
    ) as { readonly columns: Readonly<Record<string, readonly (number | string)[]>> };
    const { block, variety, yield: grown } = oats.columns;
    const columns = {
      block,
      variety,
      nitrogen: oats.columns["nitrogen"].map(Number),
      plot: variety.map((kind, i) => `${block[i]} ${kind}`),
      grown,
    };
    const rows = observeTable(table(columns), {
      response: "grown",
      factors: ["variety", "nitrogen"],
      random: ["block", "plot"],
    });
    const [first, second, third] = byR.oats.kinds;
    for (const smallSample of ["satterthwaite", "kenward-roger"] as const) {
      const fit = fitMixed(rows, { model: "interactions", smallSample });
      const by = smallSample === "satterthwaite" ? "satterthwaite" : "kenwardRoger";
      const go = (from: string, n: number, to: string, m: number): Contrast =>
        contrast(fit, { variety: from, nitrogen: n }, { variety: to, nitrogen: m });
      // lme4's search stops where its variances hold about 7 digits.
      expectAsByR(go(first, 0.2, first, 0.6), byR.oats.within[by], 6);
      expectAsByR(go(first, 0.2, second, 0.6), byR.oats.across[by], 6);
      expectAsByR(go(first, 0.3, third, 0.3), byR.oats.whole[by], 6);
    }
  });

  test("is x′b with the variance s² x′(X′X)⁻¹x, reckoned from normal equations", () => {
    const fit = fitLinear(observed(), { terms: products });
    const found = contrast(fit, fromBoth, toBoth);
    // Feed in tenths about 0.16, speed in hundreds, so that normal equations keep their digits.
    const row = ({ feed, speed, edge }: Readonly<Record<string, unknown>>): number[] => {
      const f = (Number(feed) - 0.16) * 10;
      const [used, honed] = [edge === "used" ? 1 : 0, edge === "honed" ? 1 : 0];
      return [1, f, used, honed, Number(speed) / 100 - 2, f * f, f * used, f * honed];
    };
    const rows = fit.rows.map(({ settings }) => row(settings));
    const inverse = inverted(rows);
    const b = inverse.map((line) =>
      line.reduce(
        (sum, one, j) => sum + one * rows.reduce((all, x, i) => all + x[j] * fit.rows[i].value, 0),
        0,
      ),
    );
    const [from, to] = [row(fromBoth), row(toBoth)];
    const x = to.map((value, k) => value - from[k]);
    const dot = (one: readonly number[], other: readonly number[]): number =>
      one.reduce((sum, value, k) => sum + value * other[k], 0);
    const rest = rows.reduce((sum, one, i) => sum + (fit.rows[i].value - dot(one, b)) ** 2, 0);
    const error = Math.sqrt(
      (rest / (rows.length - 8)) *
        dot(
          x,
          inverse.map((line) => dot(line, x)),
        ),
    );
    // Normal equations of condition below 1e4 lose at most 8 of 16 digits.
    expect(found.value.estimate! / dot(x, b)).toBeCloseTo(1, 8);
    expect(found.standardError! / error).toBeCloseTo(1, 8);
    expect(found.df).toBe(rows.length - 8);
  });
});

const anySetting = fc.record({
  feed: fc.double({ min: 0.05, max: 0.3, noNaN: true }),
  speed: fc.double({ min: 100, max: 350, noNaN: true }),
  edge: fc.constantFrom("fresh", "used", "honed"),
});

describe("laws", () => {
  const fits: readonly Fit[] = [fitLinear(observed("day"), { terms: products }), fitPowerLaw(observed())];

  test("going back undoes going there, with the same interval", () => {
    fc.assert(
      fc.property(anySetting, anySetting, fc.constantFrom(...fits), (one, other, fit) => {
        fc.pre(JSON.stringify(one) !== JSON.stringify(other));
        const [there, back] = [contrast(fit, one, other), contrast(fit, other, one)];
        const scale = (value: number): number => (there.as === "ratio" ? Math.log(value) : value);
        if (!isInterval(there.value) || !isInterval(back.value)) throw new Error("an interval was expected");
        const size = 1e-12 * (1 + Math.abs(scale(there.value.estimate)));
        expect(Math.abs(scale(there.value.estimate) + scale(back.value.estimate))).toBeLessThan(size);
        expect(Math.abs(scale(there.value.low) + scale(back.value.high))).toBeLessThan(size);
        expect(back.standardError).toBeCloseTo(there.standardError!, 12);
        expect(back.df).toBe(there.df);
      }),
    );
  });

  test("going by way of a third setting adds up", () => {
    fc.assert(
      fc.property(anySetting, anySetting, anySetting, fc.constantFrom(...fits), (a, b, c, fit) => {
        fc.pre(new Set([a, b, c].map((one) => JSON.stringify(one))).size === 3);
        const size = (one: Contrast): number =>
          one.as === "ratio" ? Math.log(one.value.estimate!) : one.value.estimate!;
        expect(size(contrast(fit, a, b)) + size(contrast(fit, b, c))).toBeCloseTo(
          size(contrast(fit, a, c)),
          10,
        );
      }),
    );
  });

  test("from low to high it is the effect, interval and p and all", () => {
    for (const fit of fits)
      for (const effect of fit.effects) {
        const { factor, from, to, value, p } = effect;
        const found = contrast(fit, { [factor]: from }, { [factor]: to });
        expect({ as: found.as, ...ends(found.value) }).toEqual({ as: effect.as, ...ends(value) });
        expect(found.p).toBe(p);
      }
  });

  test("coded coefficients change nothing", () => {
    fc.assert(
      fc.property(anySetting, anySetting, (one, other) => {
        fc.pre(JSON.stringify(one) !== JSON.stringify(other));
        const [plain, coded] = [false, true].map((asked) =>
          contrast(fitLinear(observed(), { terms: products, coded: asked }), one, other),
        );
        expect(coded.value.estimate).toBeCloseTo(plain.value.estimate!, 12);
        expect(coded.standardError).toBeCloseTo(plain.standardError!, 12);
      }),
      { numRuns: 20 },
    );
  });
});

const ends = (value: Contrast["value"]): Readonly<Record<string, unknown>> =>
  isInterval(value)
    ? { estimate: value.estimate, low: value.low, high: value.high }
    : { untold: value.reason };
