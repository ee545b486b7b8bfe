import { describe, expect, test } from "vitest";
import {
  contrast,
  fitFloor,
  observeTable,
  type FloorForm,
  type Uncertain,
} from "../../../src/model/index.ts";
import { seededRandom } from "../../../src/numerics/index.ts";
import reference from "../../fixtures/floor/floor.json" with { type: "json" };

function table(feed: readonly number[], Ra: readonly number[], edge?: readonly string[]) {
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: feed },
        ...(edge ? [{ name: "edge", unit: "", values: edge }] : []),
        { name: "Ra", unit: "µm", values: Ra },
      ],
    },
    { response: "Ra", factors: edge ? ["feed", "edge"] : ["feed"] },
  );
}

const eight = [0.05, 0.1, 0.2, 0.4, 0.05, 0.1, 0.2, 0.4];

describe.each(["quadrature", "sum"] as const)(
  "a floor law in %s, against nls and uniroot of R",
  (form: FloorForm) => {
    const edge = reference.edge.map((used) => (used === 1 ? "used" : "fresh"));
    const fit = fitFloor(table(reference.feed, reference.Ra, edge), { form });
    const told = reference[form];
    const near = (value: Uncertain, [estimate, low, high]: readonly number[]) => {
      // nls stops at 1e-10; profile ends come from a search that holds about six digits.
      expect(value.estimate! / estimate).toBeCloseTo(1, 7);
      expect("low" in value && value.low / low).toBeCloseTo(1, 5);
      expect("high" in value && value.high / high).toBeCloseTo(1, 5);
    };

    test("floor, exponent, level and coefficient with their profile ends", () => {
      near(fit.floor, told.floor);
      near(fit.exponents[0].value, told.exponent);
      near(fit.levels[0].ratio, told.level);
      near(fit.coefficient, told.coefficient);
      expect(fit.levels[0]).toMatchObject({ factor: "edge", level: "used" });
      expect(fit.residualSd! / told.residualSd).toBeCloseTo(1, 8);
      expect(fit.residualDf).toBe(told.df);
    });

    test("the power law beside it, and the F test between them", () => {
      expect(fit.without!.f! / told.f).toBeCloseTo(1, 7);
      expect(fit.without!.p! / told.p).toBeCloseTo(1, 6);
    });
  },
);

describe("fitFloor", () => {
  test("finds the law that made the readings, to rounding", () => {
    const fit = fitFloor(
      table(
        eight,
        eight.map((feed) => Math.hypot(0.3, 25 * feed ** 2)),
      ),
    );
    expect(fit.floor.estimate).toBeCloseTo(0.3, 10);
    expect(fit.exponents[0].value.estimate).toBeCloseTo(2, 9);
    expect(fit.tells).toBe("floor");
    expect(fit.predict({ feed: 0.3 }).estimate).toBeCloseTo(Math.hypot(0.3, 25 * 0.09), 9);
    expect(fit.coefficient.estimate).toBeCloseTo(25, 7);
    expect(fit.law).toBe("Ra² = floor² + (C · feed^a)²");
  });

  test("says that a floor and a smaller exponent stand for one another, and which passes would tell", () => {
    const random = seededRandom(3);
    const feeds = [0.12, 0.18, 0.24, 0.12, 0.18, 0.24];
    const fit = fitFloor(
      table(
        feeds,
        feeds.map((feed) => 8 * feed ** 1.5 * Math.exp(0.05 * random.normal())),
      ),
    );
    expect(fit.tells).toBe("either");
    expect("low" in fit.floor && fit.floor.low).toBe(0);
    const text = fit.sentences.join("\n");
    expect(text).toMatch(/A floor of Ra anywhere from none to 0\.\d+ µm would fit these runs\./);
    expect(text).toMatch(
      /can't tell a floor from a smaller exponent: without a floor the exponent of feed is 1\.\d+/,
    );
    expect(text).toMatch(
      /\d+ passes at feed 0\.\d+ mm\/rev( \(below what was cut\))? would tell: without a floor/,
    );
    const { passes, expected, settings, beyond } = fit.separating!;
    expect(passes).toBeGreaterThanOrEqual(2);
    expect(expected.withFloor).not.toBeCloseTo(expected.without, 3);
    expect(beyond).toBe(Number(settings["feed"]) < 0.12);
  });

  test("the passes stand where the machine can be set, and are judged there", () => {
    const feeds = [0.12, 0.18, 0.25, 0.12, 0.18, 0.25, 0.12, 0.25];
    const wobble = [0.05, -0.08, 0.02, -0.04, 0.07, -0.03, 0.06, -0.05];
    const rows = table(
      feeds,
      feeds.map((feed, i) => Math.hypot(0.25, 20 * feed ** 2) * Math.exp(wobble[i])),
    );
    const [feed] = rows.factors;
    const stepped = (increment: number) =>
      fitFloor({ ...rows, factors: [{ ...feed, increment }] }).separating!;
    const free = fitFloor(rows).separating!;
    expect(String(free.settings["feed"])).toMatch(/^0\.\d{1,3}$|^0\.0\d{1,3}$/);
    for (const increment of [0.01, 0.025, 0.05]) {
      const { settings, passes, expected, text } = stepped(increment);
      const steps = Number(settings["feed"]) / increment;
      expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-9);
      // The response without a floor is told at the rounded setting: the plain power law says the same there.
      const plain = fitFloor(rows).without!.predict(settings);
      expect(expected.without).toBeCloseTo(plain, 9);
      expect(passes).toBeGreaterThanOrEqual(2);
      expect(text).toContain(`at feed ${settings["feed"]} mm/rev`);
    }
    // A machine that steps coarser than any smaller feed is offered no feed of nothing.
    expect(Number(stepped(0.2).settings["feed"])).toBeGreaterThan(0);
  });

  test("the passes it asks for do tell: four times in five", () => {
    const random = seededRandom(8);
    const feeds = [0.1, 0.15, 0.2, 0.25, 0.1, 0.15, 0.2, 0.25];
    const law = (feed: number) => Math.hypot(0.25, 20 * feed ** 2);
    const made = () => feeds.map((feed) => law(feed) * Math.exp(0.12 * random.normal()));
    let asked = 0;
    let told = 0;
    for (let trial = 0; trial < 60; trial++) {
      const Ra = made();
      const first = fitFloor(table(feeds, Ra));
      if (first.separating === null) continue;
      asked++;
      const feed = Number(first.separating.settings["feed"]);
      const more = Array.from(
        { length: first.separating.passes },
        () => law(feed) * Math.exp(0.12 * random.normal()),
      );
      const grown = fitFloor(table([...feeds, ...more.map(() => feed)], [...Ra, ...more]));
      if (grown.tells === "floor") told++;
    }
    // The truth has a floor; known curves would give 0.8, uncertain ones less (measured 0.76 with this seed): well above the half that would be no help.
    expect(asked).toBeGreaterThan(20);
    expect(told / asked).toBeGreaterThan(0.55);
  });

  test("predicts the median with its interval, and marks what lies outside", () => {
    const fit = fitFloor(table(reference.feed, reference.Ra));
    const { estimate, mean, single, extrapolation } = fit.predict({ feed: 0.03 });
    expect(extrapolation).toEqual(["feed"]);
    expect(mean.low).toBeLessThan(estimate);
    expect(single.high).toBeGreaterThan(mean.high);
    expect(fit.predict({ feed: 0.2 }).extrapolation).toEqual([]);
  });

  test("where the floor came out below none and nothing is left, it says so in place of a number", () => {
    const feeds = [0.12, 0.18, 0.25, 0.12, 0.18, 0.25];
    // Steeper at the small end than a power law: the opposite of a floor.
    const fit = fitFloor(
      table(
        feeds,
        feeds.map((feed, i) => (feed - 0.06) * (1 + 0.001 * (i % 2))),
      ),
      { form: "sum" },
    );
    expect(fit.floor.estimate).toBe(0);
    expect(() => fit.predict({ feed: 0.03 })).toThrow(
      "a prediction at feed 0.03 mm/rev, where nothing is left of the law: its floor came out below none; expected settings near to what was cut. Fit a power law without a floor.",
    );
    expect(contrast(fit, { feed: 0.2 }, { feed: 0.03 }).sentence).toBe(
      "What going from feed 0.2 mm/rev to feed 0.03 mm/rev does to Ra can't be told: at one end nothing is left of the law: its floor came out below none. Outside what was cut: feed.",
    );
    expect(fit.predict({ feed: 0.2 }).text).toMatch(
      /^At feed 0\.2 mm\/rev the median of Ra is 0\.1\d+ µm \(95 % 0\.1\d+ to 0\.1\d+ µm; a single run 0\.1\d+ to 0\.1\d+ µm\)\.$/,
    );
  });

  test("units change no ratio and no exponent", () => {
    const plain = fitFloor(table(reference.feed, reference.Ra));
    const other = fitFloor(
      table(
        reference.feed.map((feed) => feed / 25.4),
        reference.Ra.map((value) => value * 39.37),
      ),
    );
    expect(other.floor.estimate! / plain.floor.estimate!).toBeCloseTo(39.37, 6);
    expect(other.exponents[0].value.estimate).toBeCloseTo(plain.exponents[0].value.estimate!, 7);
    // C is the height at a feed of 1, which is 1 in/rev in one table and 1 mm/rev in the other.
    const exponent = plain.exponents[0].value.estimate!;
    expect(
      other.coefficient.estimate! / plain.coefficient.estimate! / (39.37 * 25.4 ** exponent),
    ).toBeCloseTo(1, 6);
    expect(other.exponents[0].value.text).toBe(plain.exponents[0].value.text);
  });

  test("refused with the mend: too few runs, no quantity, a factor that never moved, readings of zero", () => {
    expect(() => fitFloor(table([0.1, 0.2, 0.4], [1, 2, 3]))).toThrow(
      "3 runs for a floor, a constant and 1 exponent; expected more than 3 runs. Cut more settings, or leave factors out.",
    );
    expect(() => fitFloor(table(eight, eight), { factors: ["depth"] })).toThrow(
      '"depth" as a factor; expected feed.',
    );
    expect(() =>
      fitFloor(
        table(
          eight.map(() => 0.1),
          eight,
        ),
      ),
    ).toThrow("Leave it out of the factors.");
    expect(() => fitFloor(table(eight, [0, ...eight.slice(1)]))).toThrow(
      "run 1: Ra 0; expected readings above zero, as heights are. Look at the reading: void it if it is a slip, or mend it.",
    );
    const edges = eight.map((_, k) => (k % 2 === 0 ? "fresh" : "used"));
    expect(() => fitFloor(table(eight, eight, edges), { factors: ["edge"] })).toThrow(
      "no quantity among the factors; expected one at least, such as the feed.",
    );
  });
});
