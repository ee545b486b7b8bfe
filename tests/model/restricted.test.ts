import { describe, expect, test } from "vitest";
import { fitPowerLaw, fitRestricted, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";

const random = seededRandom(815);
const feeds = Array.from({ length: 16 }, (_, i) => [0.08, 0.12, 0.16, 0.24][i % 4]);
const speeds = feeds.map((_, i) => (i < 8 ? 150 : 250));

function observed(exponent: number) {
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: feeds },
        { name: "speed", unit: "m/min", values: speeds },
        {
          name: "Ra",
          unit: "µm",
          values: feeds.map(
            (feed, i) => 30 * feed ** exponent * speeds[i] ** -0.2 * Math.exp(0.05 * random.normal()),
          ),
        },
      ],
    },
    { response: "Ra", factors: ["feed", "speed"], log: true },
  );
}

describe("fitRestricted", () => {
  test("an exponent held at 2 stays there, and F is the square of t of the free exponent's distance", () => {
    const observations = observed(1.4);
    const free = fitPowerLaw(observations).coefficients[1];
    const held = fitRestricted(observations, { model: "power-law" }, [{ of: { feed: 1 }, value: 2 }]);
    expect(held.coefficients[1].estimate).toBeCloseTo(2, 13);
    expect(held.coefficients[1].standardError).toBe(0);
    expect(held.f).toBeCloseTo(((free.estimate - 2) / free.standardError!) ** 2, 6);
    expect(held.denominatorDf).toBe(13);
    expect(held.residualDf).toBe(14);
    expect(held.sentence).toBe("The readings speak against the exponent of feed = 2 (p below 0.0001).");
  });

  test("a value that the readings bear is not spoken against", () => {
    const held = fitRestricted(observed(2), { model: "power-law" }, [{ of: { feed: 1 }, value: 2 }]);
    expect(held.p).toBeGreaterThan(0.05);
    expect(held.sentence).toContain("do not speak against the exponent of feed = 2");
  });

  test("coded or not, the same restriction gives the same test", () => {
    const observations = observed(1.4);
    const natural = fitRestricted(observations, { model: "main", log: true }, [
      { of: { speed: 1 }, value: -0.001 },
    ]);
    const coded = fitRestricted(observations, { model: "main", log: true, coded: true }, [
      { of: { speed: 1 }, value: -0.001 * 50 },
    ]);
    expect(coded.f).toBeCloseTo(natural.f, 8);
    expect(coded.coefficients[1].estimate).toBeCloseTo(natural.coefficients[1].estimate * 0.08, 10);
  });

  test("an unknown term is refused with those that there are", () => {
    expect(() =>
      fitRestricted(observed(2), { model: "power-law" }, [{ of: { depth: 1 }, value: 2 }]),
    ).toThrow('the restricted term {"depth":1}; expected one of {}, {"feed":1}, {"speed":1}.');
  });
});
