import { describe, expect, test } from "vitest";
import {
  contrast,
  fitCurve,
  fitFloor,
  fitLinear,
  isInterval,
  observeTable,
} from "../../../src/model/index.ts";
import { tQuantile } from "../../../src/numerics/index.ts";
import { inverted, observed, table, undated } from "./by-r.ts";

describe("curves", () => {
  test("a curve that is linear in its parameters says what the linear fit says", () => {
    const columns = { feed: undated["feed"], speed: undated["speed"], Ra: undated["Ra"] };
    const curve = fitCurve(table(columns), {
      response: "Ra",
      expression: "a + b*feed + c*speed",
      start: { a: 1, b: 1, c: 1 },
    });
    const fit = fitLinear(observeTable(table(columns), { response: "Ra", factors: ["feed", "speed"] }));
    const [one, other] = [curve, fit].map((each) => contrast(each, { feed: 0.2, speed: 300 }, { feed: 0.1 }));
    expect(one.value.estimate).toBeCloseTo(other.value.estimate!, 11);
    expect(one.standardError).toBeCloseTo(other.standardError!, 11);
    expect(one.df).toBe(other.df);
    expect(one.sentence).toBe(other.sentence.replace("Going from", "With speed 300 m/min, going from"));
  });

  test("above a floor the ratio has the standard error that slopes taken by differences give", () => {
    const feeds = [0.06, 0.1, 0.16, 0.25, 0.06, 0.1, 0.16, 0.25, 0.06, 0.16];
    const weights = [1, 2, 1, 1, 3, 1, 1, 2, 1, 1];
    const Ra = feeds.map((feed, i) => Math.hypot(0.3, 25 * feed ** 2) * Math.exp(0.05 * Math.sin(7 * i)));
    const rows = observeTable(table({ feed: feeds, Ra }), { response: "Ra", factors: ["feed"] });
    const fit = fitFloor(rows, { weights });
    const found = contrast(fit, { feed: 0.25 }, { feed: 0.06 });
    expect(found).toMatchObject({ as: "ratio", df: 7 });
    expect(found.value.estimate).toBeCloseTo(
      fit.predict({ feed: 0.06 }).estimate / fit.predict({ feed: 0.25 }).estimate,
      12,
    );
    // ln Ra of the three parameters themselves: floor², ln C, exponent.
    const start = [fit.floor.estimate! ** 2, Math.log(1), fit.exponents[0].value.estimate!];
    start[1] = Math.log(fit.predict({ feed: 0.25 }).estimate ** 2 - start[0]) / 2 - start[2] * Math.log(0.25);
    const law = ([floor, constant, exponent]: readonly number[], feed: number): number =>
      Math.log(floor + Math.exp(2 * (constant + exponent * Math.log(feed)))) / 2;
    const slopes = (feed: number): number[] =>
      start.map((value, k) => {
        const step = 1e-5 * Math.max(Math.abs(value), 0.01);
        const [up, down] = [step, -step].map((by) =>
          law(
            start.map((one, j) => (j === k ? one + by : one)),
            feed,
          ),
        );
        return (up - down) / (2 * step);
      });
    const cross = inverted(
      feeds.map((feed, i) => slopes(feed).map((slope) => slope * Math.sqrt(weights[i]))),
    );
    const x = slopes(0.06).map((slope, k) => slope - slopes(0.25)[k]);
    const variance = x.reduce((sum, a, i) => sum + a * x.reduce((all, b, j) => all + b * cross[i][j], 0), 0);
    // Central differences of step 1e-5 err by about 1e-9 of the slopes.
    expect(found.standardError! / (fit.residualSd! * Math.sqrt(variance))).toBeCloseTo(1, 6);
    if (!isInterval(found.value)) throw new Error("an interval was expected");
    expect(Math.log(found.value.high / found.value.estimate)).toBeCloseTo(
      tQuantile(0.975, 7) * found.standardError!,
      10,
    );
  });

  test("above a floor every factor must be named", () => {
    const fit = fitFloor(observed());
    expect(() => contrast(fit, { feed: 0.2 }, { feed: 0.1 })).toThrow(
      "no setting of speed; expected a number above zero.",
    );
  });
});
