import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";
import { tQuantile } from "../../src/numerics/index.ts";
import { workedExample, fitOf } from "../reference/worked-example.ts";

const feeds = [0.08, 0.08, 0.12, 0.16, 0.2, 0.24, 0.24];
const finish = [0.31, 0.35, 0.5, 0.72, 0.98, 1.31, 1.24];
const sweep = observeTable(
  {
    columns: [
      { name: "feed", unit: "mm/rev", values: feeds },
      { name: "Ra", unit: "µm", values: finish },
    ],
  },
  { response: "Ra", factors: ["feed"] },
);

/** The textbook formulas of a straight line, written out. */
function lineAt(x: readonly number[], y: readonly number[], at: number) {
  const n = x.length;
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / n;
  const [mx, my] = [mean(x), mean(y)];
  const sxx = x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  const slope = x.reduce((sum, value, i) => sum + (value - mx) * (y[i] - my), 0) / sxx;
  const rss = y.reduce((sum, value, i) => sum + (value - my - slope * (x[i] - mx)) ** 2, 0);
  const spread = 1 / n + (at - mx) ** 2 / sxx;
  const t = tQuantile(0.975, n - 2);
  const s = Math.sqrt(rss / (n - 2));
  return {
    estimate: my + slope * (at - mx),
    mean: t * s * Math.sqrt(spread),
    single: t * s * Math.sqrt(1 + spread),
  };
}

describe("predict", () => {
  test("gives the mean and a single run of a line as the textbook does", () => {
    const at = fitLinear(sweep).predict({ feed: 0.15 });
    const plain = lineAt(feeds, finish, 0.15);
    expect(at.estimate).toBeCloseTo(plain.estimate, 13);
    expect(at.mean!.low).toBeCloseTo(plain.estimate - plain.mean, 12);
    expect(at.mean!.high).toBeCloseTo(plain.estimate + plain.mean, 12);
    expect(at.single!.low).toBeCloseTo(plain.estimate - plain.single, 12);
    expect(at.single!.high).toBeCloseTo(plain.estimate + plain.single, 12);
    expect(at.extrapolation).toEqual([]);
  });

  test("goes back from logarithms to the response's own scale, as a median", () => {
    const at = fitPowerLaw(sweep).predict({ feed: 0.15 });
    const plain = lineAt(feeds.map(Math.log), finish.map(Math.log), Math.log(0.15));
    expect(at.estimate).toBeCloseTo(Math.exp(plain.estimate), 13);
    expect(at.mean!.low).toBeCloseTo(Math.exp(plain.estimate - plain.mean), 12);
    expect(at.single!.high).toBeCloseTo(Math.exp(plain.estimate + plain.single), 12);
    expect(at.text).toBe(
      "At feed 0.15 mm/rev the median of Ra is 0.70 µm (95 % 0.66 to 0.74 µm; a single run 0.59 to 0.82 µm).",
    );
  });

  test("names what lies outside what was cut", () => {
    const fit = fitLinear(sweep);
    expect(fit.predict({ feed: 0.25 }).extrapolation).toEqual(["feed"]);
    expect(fit.predict({ feed: 0.25 }).text).toContain("Outside what was cut: feed.");
    expect(fit.predict({ feed: 0.24 }).extrapolation).toEqual([]);
  });

  test("names a combination that is farther out than any run, though each setting was cut", () => {
    // Feed and speed rise together but for a little: fast and low was never near.
    const fit = fitLinear(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "", values: [1, 2, 3, 4, 5, 6] },
            { name: "speed", unit: "", values: [1, 2, 3.2, 3.9, 5, 6.1] },
            { name: "Ra", unit: "", values: [1, 2, 3, 4, 5, 6.5] },
          ],
        },
        { response: "Ra", factors: ["feed", "speed"] },
      ),
    );
    expect(fit.predict({ feed: 6, speed: 1 }).extrapolation).toEqual(["the combination of feed and speed"]);
  });

  test("takes what is left out at the middle or the first level", () => {
    const example = workedExample("tool-life-speed-type");
    const fit = fitOf(example, example.analyses[0]);
    expect(fit.predict({}).at).toEqual({ speed: 750, tool: "A" });
  });

  test("widens with the confidence that is asked for", () => {
    const fit = fitLinear(sweep);
    const width = (confidence: number) => {
      const { low, high } = fit.predict({ feed: 0.1 }, { confidence }).mean!;
      return high - low;
    };
    expect(width(0.99) / width(0.95)).toBeCloseTo(tQuantile(0.995, 5) / tQuantile(0.975, 5), 12);
  });

  test("tells no single run of a weighted fit, whose scatter there is not known", () => {
    const fit = fitLinear(sweep, { weights: (row) => 1 / Number(row.settings["feed"]) });
    expect(fit.predict({ feed: 0.1 }).single).toBeNull();
    expect(fit.predict({ feed: 0.1 }).mean).not.toBeNull();
  });

  test("refuses unknown factors, levels and settings that are no numbers", () => {
    const example = workedExample("tool-life-speed-type");
    const fit = fitOf(example, example.analyses[0]);
    expect(() => fit.predict({ feed: 1 })).toThrow(
      'a setting of the unknown factor "feed"; expected one of speed or tool.',
    );
    expect(() => fit.predict({ tool: "C" })).toThrow("tool C; expected one of A or B.");
    expect(() => fit.predict({ speed: "fast" })).toThrow('setting: speed "fast"; expected a finite number.');
  });
});
