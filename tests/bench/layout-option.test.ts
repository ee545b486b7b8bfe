import { expect, test } from "vitest";
import { effectsText, readEffects } from "../../src/bench/effect-list.ts";
import { nested, optionJson } from "../../src/bench/layout-option.ts";
import { Slips } from "../../src/bench/slips.ts";
import { squared, termsOf } from "../../src/model/index.ts";
import type { Factor } from "../../src/trial/index.ts";

const factors: readonly Factor[] = [
  { kind: "quantity", name: "feed", unit: "mm/rev", low: 0.08, high: 0.24, scale: "log", change: "easy" },
  { kind: "quantity", name: "speed", unit: "rev/min", low: 800, high: 1250, scale: "linear", change: "easy" },
  { kind: "category", name: "edge", levels: ["fresh", "used"], change: "hard" },
];
const names = factors.map(({ name }) => name);

function read(name: string, text: string): { readonly value: unknown; readonly said: readonly string[] } {
  const slips = new Slips();
  const value = optionJson(name, { slips, field: `layout.${name}`, text, factors });
  expect(slips.found.every(({ field, missing }) => field === `layout.${name}` && !missing)).toBe(true);
  return { value, said: slips.found.map(({ message }) => message) };
}

test("effects are read as they are written: alone, in pairs, squared", () => {
  expect(readEffects("feed, feed × speed; speed², edge by feed", names).terms).toEqual([
    { feed: 1 },
    { feed: 1, speed: 1 },
    { speed: 2 },
    { edge: 1, feed: 1 },
  ]);
  expect(readEffects("fed", names).refusals).toEqual([
    '"fed": "fed" is not a factor of this trial. It has feed, speed and edge.',
  ]);
  expect(readEffects("feed × feed", names).refusals).toEqual([
    '"feed × feed" names a factor twice. For its curvature write feed².',
  ]);
});

test("effects shown and read again are the same", () => {
  const surface = termsOf("surface", factors).filter((term) => Object.keys(term).length > 0);
  expect(effectsText(surface, factors)).toBe("surface");
  const some = [{ feed: 1 }, { feed: 1, edge: 1 }, squared("speed")];
  expect(effectsText(some, factors)).toBe("feed, feed × edge, speed²");
  expect(readEffects(effectsText(some, factors), names).terms).toEqual(some);
});

test("what an order is kept clear of is written out, the terms of a search may stay a name", () => {
  expect(read("terms", "surface").value).toBe("surface");
  expect(read("protect", "main").value).toEqual([{ feed: 1 }, { speed: 1 }, { edge: 1 }]);
});

test("settings are read with any unit, categories by their names", () => {
  expect(read("hold", "feed = 0.004 in/rev, edge = used").value).toEqual({ feed: 0.1016, edge: "used" });
  expect(
    read("keep", "feed = 0.1, speed = 900, edge = fresh\n\nfeed = 0.2, speed = 900, edge = used").value,
  ).toEqual([
    { feed: 0.1, speed: 900, edge: "fresh" },
    { feed: 0.2, speed: 900, edge: "used" },
  ]);
  expect(read("hold", "coolant = on").said).toEqual([
    '"coolant = on": expected a factor and its setting, such as feed = 0.12. Factors are feed, speed and edge.',
  ]);
});

test("each line says what may not be cut", () => {
  const lines = [
    "removal rate at most 40 cm³/min",
    "never feed = 0.24 with edge = used",
    "1000 × feed + 0.1 × speed at most 300",
    "speed - 100 × feed at least 500",
    "tool life at least 15 min, exponent 0.25, constant 300 m/min",
  ];
  expect(read("constraints", lines.join("\n"))).toEqual({
    said: [],
    value: [
      { limit: "removal rate", atMost: "40 cm³/min" },
      { never: { feed: 0.24, edge: "used" } },
      { sum: { feed: 1000, speed: 0.1 }, atMost: 300 },
      { sum: { speed: 1, feed: -100 }, atLeast: 500 },
      { limit: "tool life", exponent: 0.25, constant: "300 m/min", atLeast: "15 min" },
    ],
  });
  expect(read("constraints", "not too fast").said[0]).toContain('"not too fast": expected a line such as');
  expect(read("constraints", "2 × edge + speed at most 900").said).toEqual([
    '"2 × edge" is not a number of a quantity. Those are feed and speed.',
  ]);
});

test("pairs that must stay clear are pairs", () => {
  expect(read("interactions", "feed × speed, feed × edge").value).toEqual([
    ["feed", "speed"],
    ["feed", "edge"],
  ]);
  expect(read("interactions", "feed").said).toEqual([
    '"feed": expected a pair of factors, such as feed × speed.',
  ]);
});

test("borders, costs of a change and large changes are read from the shop's words", () => {
  expect(read("borders.edge", "8 passes, 12 min").value).toEqual({ passes: 8, minutes: 12 });
  expect(read("borders.shift", "4 h").value).toEqual({ minutes: 240 });
  expect(read("borders.part", "some").said).toEqual([
    '"some": expected passes or minutes, such as 8 passes or 12 min.',
  ]);
  expect(read("changes.weights", "edge = 10, speed: 2").value).toEqual({ edge: 10, speed: 2 });
  expect(read("largeChanges", "speed at most 3 changes by 200\nfeed, at most 2 by ratio 1.5").value).toEqual([
    { factor: "speed", most: 3, step: 200 },
    { factor: "feed", most: 2, ratio: 1.5 },
  ]);
  expect(read("largeChanges", "edge at most 1 by 2").said[0]).toContain(
    "of a factor that is a quantity (feed and speed)",
  );
});

test("options in parts are put together, empty ones left out", () => {
  const value = nested([
    ["seed", 7],
    ["borders.edge", { passes: 8 }],
    ["borders.part", undefined],
    ["warmUp.passes", 2],
    ["warmUp.analysed", true],
  ]);
  expect(value).toEqual({ seed: 7, borders: { edge: { passes: 8 } }, warmUp: { passes: 2, analysed: true } });
});
