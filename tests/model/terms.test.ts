import { describe, expect, test } from "vitest";
import {
  fitLinear,
  intercept,
  main,
  ModelError,
  observeTable,
  power,
  squared,
  termsOf,
  times,
} from "../../src/model/index.ts";

const factors = [
  { name: "feed", kind: "quantity" },
  { name: "speed", kind: "quantity" },
  { name: "edge", kind: "category" },
] as const;

const observations = observeTable(
  {
    columns: [
      { name: "feed", unit: "mm/rev", values: [0.1, 0.2, 0.1, 0.2] },
      { name: "edge", unit: "", values: ["fresh", "fresh", "used", "used"] },
      { name: "Ra", unit: "µm", values: [0.5, 1, 0.7, 1.3] },
    ],
  },
  { response: "Ra", factors: ["feed", "edge"] },
);

describe("terms", () => {
  test("are built by functions", () => {
    expect([intercept(), main("feed"), squared("feed"), power("feed", 3), times("feed", "speed")]).toEqual([
      {},
      { feed: 1 },
      { feed: 2 },
      { feed: 3 },
      { feed: 1, speed: 1 },
    ]);
  });

  test("of a named model come intercept first, each set beginning with the one before it", () => {
    const mains = [{}, { feed: 1 }, { speed: 1 }, { edge: 1 }];
    const products = [
      { feed: 1, speed: 1 },
      { feed: 1, edge: 1 },
      { speed: 1, edge: 1 },
    ];
    expect(termsOf("main", factors)).toEqual(mains);
    expect(termsOf("power-law", factors)).toEqual(mains);
    expect(termsOf("interactions", factors)).toEqual([...mains, ...products]);
    expect(termsOf("surface", factors)).toEqual([...mains, ...products, { feed: 2 }, { speed: 2 }]);
  });
});

describe("terms that can't be are refused with the way to mend them", () => {
  const refused = (terms: Parameters<typeof fitLinear>[1]) => {
    try {
      fitLinear(observations, terms);
    } catch (error) {
      expect(error).toBeInstanceOf(ModelError);
      return (error as ModelError).message;
    }
    return "nothing was refused";
  };

  test("the square of a category", () => {
    expect(refused({ terms: [squared("edge")] })).toBe(
      'the power 2 of edge, a category; expected a quantity. A category has no square: use main("edge").',
    );
  });

  test("an unknown factor", () => {
    expect(refused({ terms: [main("speed")] })).toBe(
      'the unknown factor "speed" in a term; expected one of feed or edge.',
    );
    expect(refused({ terms: [{ "edge=used": 1 }] })).toBe(
      'the unknown factor "edge=used" in a term; expected one of feed or edge. A category is named as a whole: {"edge": 1}.',
    );
  });

  test("the same term twice, in any order of its factors", () => {
    expect(refused({ terms: [times("feed", "edge"), times("edge", "feed")] })).toBe(
      'the term {"edge":1,"feed":1} twice; expected each term once.',
    );
  });

  test("degrees that are not whole", () => {
    expect(refused({ terms: [{ feed: 0.5 }] })).toBe(
      "feed to the power 0.5; expected a whole power from 1 to 30.",
    );
    expect(() => power("feed", 0)).toThrow("feed to the power 0; expected a whole power from 1 to 30.");
    expect(() => times("feed", "feed")).toThrow(
      'a product with feed twice; expected different factors. Use squared("feed").',
    );
    expect(() => times("feed")).toThrow("a product of 1; expected two factors or more.");
  });

  test("a category by itself through the origin", () => {
    expect(refused({ model: "main", throughOrigin: true })).toBe(
      "the category term edge in a fit through the origin; expected quantities, or products of a category with a quantity. " +
        "Fit with an intercept, or let the category change the slope of a quantity.",
    );
  });

  test("a model and terms at once, and a confidence of 95", () => {
    expect(refused({ model: "main", terms: [main("feed")] })).toBe(
      "both a model and terms; expected one of the two.",
    );
    expect(refused({ confidence: 95 })).toBe(
      "a confidence of 95; expected a number between 0 and 1, such as 0.95.",
    );
  });
});
