import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, isInterval, observeTable } from "../../src/model/index.ts";
import { workedExample, fitOf } from "../reference/worked-example.ts";

type Columns = Readonly<Record<string, readonly (number | string)[]>>;
const units: Readonly<Record<string, string>> = { feed: "mm/rev", speed: "m/min", Ra: "µm" };
const table = (columns: Columns, factors: readonly string[]) =>
  observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: units[name] ?? "", values })) },
    { response: "Ra", factors },
  );

/** Two runs at each corner of feed, speed and edge; Ra by a rule plus a fixed scatter. */
function factorial(rule: (feed: number, speed: number, edge: string) => number, scatter = 0.02) {
  const corners = [0.08, 0.24].flatMap((feed) =>
    [200, 400].flatMap((speed) => ["fresh", "used"].map((edge) => ({ feed, speed, edge }))),
  );
  const rows = [...corners, ...corners];
  const noise = [1, -1, -0.5, 0.3, 0.7, -0.2, -0.9, 0.4, 0.1, 0.8, -0.6, -0.7, 0.2, -0.4, 0.5, 0.3];
  return table(
    {
      feed: rows.map(({ feed }) => feed),
      speed: rows.map(({ speed }) => speed),
      edge: rows.map(({ edge }) => edge),
      Ra: rows.map(({ feed, speed, edge }, i) => rule(feed, speed, edge) * (1 + scatter * noise[i])),
    },
    ["feed", "speed", "edge"],
  );
}

describe("effects", () => {
  test("read as sentences with their intervals, or say what could have been missed", () => {
    const fit = fitLinear(factorial((feed, _, edge) => 0.4 + 2.5 * feed + (edge === "used" ? 0.1 : 0)));
    expect(fit.effects.map(({ sentence }) => sentence)).toEqual([
      "Raising feed from 0.08 to 0.24 mm/rev raises Ra by 0.403 µm (95 % 0.391 to 0.414).",
      "No effect of speed on Ra was seen; an effect up to 0.015 µm could have been missed.",
      "Changing edge from fresh to used raises Ra by 0.098 µm (95 % 0.086 to 0.110).",
    ]);
  });

  test("fall as well as rise, the interval told in the direction of the fall", () => {
    const [, speed] = fitLinear(factorial((_, speed) => 1 - speed / 1000)).effects;
    expect(speed.sentence).toMatch(
      /^Raising speed from 200 to 400 m\/min lowers Ra by 0\.\d+ µm \(95 % 0\.\d+ to 0\.\d+\)\.$/,
    );
    expect(isInterval(speed.value) && speed.value.high < 0).toBe(true);
  });

  test("on the log scale are ratios", () => {
    const fit = fitPowerLaw(factorial((feed, _, edge) => 10 * feed ** 1.5 * (edge === "used" ? 1.2 : 1)));
    expect(fit.effects[0]).toMatchObject({ as: "ratio", from: 0.08, to: 0.24 });
    expect(fit.effects[0].value.estimate).toBeCloseTo(3 ** 1.5, 0);
    expect(fit.effects.map(({ sentence }) => sentence)).toEqual([
      "Raising feed from 0.08 to 0.24 mm/rev multiplies Ra by 5.21 (95 % 5.14 to 5.29).",
      "No effect of speed on Ra was seen; a change by a factor up to 1.021 could have been missed.",
      "Changing edge from fresh to used multiplies Ra by 1.197 (95 % 1.180 to 1.215).",
    ]);
  });

  test("that cancel on the average but hang on another factor are not called nothing", () => {
    const fit = fitLinear(
      factorial((feed, speed) => 1 + 4 * (feed - 0.16) * ((speed - 300) / 100)),
      { model: "interactions" },
    );
    expect(fit.effects[0].sentence).toMatch(
      /^There is an effect of feed on Ra \(p below 0\.0001\), though from 0\.08 to 0\.24 mm\/rev no change was seen on average/,
    );
    expect(fit.effects[0].sentence).toMatch(/: what it does depends on speed\.$/);
    expect(fit.effects[0].pAll!).toBeLessThan(1e-6);
  });

  test("that bend in between are not called nothing", () => {
    const feeds = [0.08, 0.08, 0.12, 0.12, 0.16, 0.16, 0.2, 0.2, 0.24, 0.24];
    const fit = fitLinear(
      table({ feed: feeds, Ra: feeds.map((feed, i) => 0.5 + 80 * (feed - 0.16) ** 2 + (i % 2) * 0.01) }, [
        "feed",
      ]),
      { model: "surface" },
    );
    expect(fit.effects[0].sentence).toMatch(/Ra bends in between\.$/);
  });

  test("with products in the model are those in the middle of the other factors, levels evenly weighted", () => {
    const example = workedExample("tool-life-2x2x2");
    const fit = fitOf(example, example.analyses[0]);
    // Montgomery, problem 6.1: 95 % of geometry 6.580 to 16.087.
    const { value } = fit.effects[1];
    expect(value.estimate).toBeCloseTo(11.3333333333333, 12);
    expect(isInterval(value) && [value.low, value.high].map((end) => Number(end.toFixed(3)))).toEqual([
      6.58, 16.087,
    ]);
  });

  test("of a category are told for each level against the first", () => {
    const example = workedExample("etch-rate-4-levels");
    const fit = fitOf(example, example.analyses[0]);
    // Means 551.2, 587.4, 625.4, 707.0 (Montgomery, chapter 3).
    expect(fit.effects.map(({ from, to, value }) => [from, to, Number(value.estimate!.toFixed(1))])).toEqual([
      ["160", "180", 36.2],
      ["160", "200", 74.2],
      ["160", "220", 155.8],
    ]);
  });

  test("are called by the share of the confidence that was asked for", () => {
    const fit = fitLinear(
      factorial((feed) => feed),
      { confidence: 0.9 },
    );
    expect(fit.effects[0].sentence).toContain("(90 % ");
  });
});

describe("ratio", () => {
  const fit = fitPowerLaw(factorial((feed) => 10 * feed ** 1.5));

  test("tells what halving does, with the exponent's interval carried over", () => {
    const [, exponent] = fit.coefficients;
    const halved = fit.ratio("feed", 0.5);
    expect(halved.estimate).toBeCloseTo(0.5 ** exponent.estimate, 13);
    expect(isInterval(halved) && halved.low).toBeCloseTo(0.5 ** exponent.high!, 12);
    expect(isInterval(halved) && halved.high).toBeCloseTo(0.5 ** exponent.low!, 12);
    expect(halved.text).toBe("0.3529, 95 % 0.3496 to 0.3561");
  });

  test("has a reason in place of an interval where there is no one ratio", () => {
    expect(fit.ratio("edge", 0.5)).toMatchObject({
      estimate: null,
      reason: "edge is a category and can't be multiplied",
    });
    expect(fitLinear(factorial((feed) => feed)).ratio("feed", 0.5)).toMatchObject({ estimate: null });
    expect(() => fit.ratio("depth", 0.5)).toThrow(
      'the unknown factor "depth"; expected one of feed, speed or edge.',
    );
    expect(() => fit.ratio("feed", 0)).toThrow(
      "the multiplier 0; expected a number above zero, 0.5 for halving.",
    );
  });
});
