import { describe, expect, test } from "vitest";
import { layOut, termCorrelations, type Layout } from "../../src/layout/index.ts";
import { fitLinear, main, observeTable, squared, times, type TableColumn } from "../../src/model/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { publishedComparisons } from "./agreement.ts";
import { workedExample, type WorkedExample } from "./worked-example.ts";

// Published trials laid out by the tool, not read from their tables: each run is matched with the published one of the same
// settings, takes over its response, and the project's own fit must print what the source prints.

const quantity = (name: string): Factor => ({
  kind: "quantity",
  name,
  unit: "1",
  low: -1,
  high: 1,
  scale: "linear",
  change: "easy",
});
const category = (name: string): Factor => ({ kind: "category", name, levels: ["-1", "1"], change: "easy" });

/** The published example with its lines put into the order of the layout; refuses a run that was not published, or one left over. */
function asLaidOut(
  example: WorkedExample,
  layout: Layout,
  { block }: { readonly block?: string } = {},
): WorkedExample {
  const names = Object.keys(layout.runs[0].settings);
  const values = (name: string) => example.columns.find((column) => column.name === name)!.values;
  const keyOf = (settings: readonly unknown[]) => settings.map(Number).join();
  const lines = layout.runs.map(() => 0);
  const free = new Set(values(names[0]).keys());
  layout.runs.forEach((run, place) => {
    const wanted = keyOf([
      ...names.map((name) => run.settings[name]),
      ...(block === undefined ? [] : [run.block]),
    ]);
    const line = [...free].find(
      (own) =>
        keyOf([...names, ...(block === undefined ? [] : [block])].map((name) => values(name)[own])) ===
        wanted,
    );
    if (line === undefined) throw new Error(`run ${place + 1} was not published: ${wanted}`);
    free.delete(line);
    lines[place] = line;
  });
  if (free.size > 0) throw new Error(`published and not laid out: lines ${[...free].join()}`);
  return {
    ...example,
    columns: example.columns.map((column) => ({
      ...column,
      values: lines.map((line) => column.values[line]),
    })),
  };
}

function disagreeing(example: WorkedExample): readonly unknown[] {
  const all = example.analyses.flatMap((analysis) => publishedComparisons(example, analysis));
  expect(all.length).toBeGreaterThan(0);
  return all.filter(({ off }) => !(off <= 1));
}

/** Alias strings with factors by number from 1, in the order of the source: "seat = dynamo × gear" is "1 = 24". */
function byNumber(aliases: readonly string[], names: readonly string[]): readonly string[] {
  return aliases
    .map((text) =>
      text
        .split(" = ")
        .map((word) =>
          word
            .split(" × ")
            .map((name) => names.indexOf(name) + 1)
            .sort((one, other) => one - other)
            .join(""),
        )
        .sort((one, other) => one.length - other.length || (one < other ? -1 : 1))
        .join(" = "),
    )
    .sort();
}

describe("bicycle, 2^(7−4) (Box, Hunter and Hunter 1978, chapter 12)", () => {
  const example = workedExample("bicycle-2-7-4");
  const names = ["seat", "dynamo", "handlebars", "gear", "raincoat", "breakfast", "tyres"];
  // The source makes gear = 12, raincoat = 13, breakfast = 23, tyres = 123; the tool gives the fourth factor the product of three.
  const inToolsOrder = ["seat", "dynamo", "handlebars", "tyres", "gear", "raincoat", "breakfast"];
  const layout = layOut({ factors: inToolsOrder.map(quantity), layout: { kind: "fraction", runs: 8 } });

  test("effects are those printed", () => {
    expect(disagreeing(asLaidOut(example, layout))).toEqual([]);
  });
  test("by the source's own generators the runs are the same", () => {
    const generators = [
      "gear = seat × dynamo",
      "raincoat = seat × handlebars",
      "breakfast = dynamo × handlebars",
      "tyres = seat × dynamo × handlebars",
    ];
    const own = layOut({ factors: names.map(quantity), layout: { kind: "fraction", generators } });
    expect(disagreeing(asLaidOut(example, own))).toEqual([]);
  });
  // l₁ … l₇ of the source, from memory; they follow from its generators.
  test("alias strings are those of the source", () => {
    expect(byNumber(layout.aliases ?? [], names)).toEqual([
      "1 = 24 = 35 = 67",
      "2 = 14 = 36 = 57",
      "3 = 15 = 26 = 47",
      "4 = 12 = 37 = 56",
      "5 = 13 = 27 = 46",
      "6 = 17 = 23 = 45",
      "7 = 16 = 25 = 34",
    ]);
  });
});

describe("reactor, 2^5 and its half (Box, Hunter and Hunter 1978, chapter 12)", () => {
  const names = ["feed rate", "catalyst", "agitation", "temperature", "concentration"];
  const half = layOut({
    factors: names.map(quantity),
    layout: { kind: "fraction", runs: 16, aliasOrder: 3 },
  });

  test("the whole factorial gives the effects printed", () => {
    const whole = layOut({ factors: names.map(quantity), layout: { kind: "factorial" } });
    expect(whole.runs).toHaveLength(32);
    expect(disagreeing(asLaidOut(workedExample("reactor-2x2x2x2x2"), whole))).toEqual([]);
  });
  test("the half with 5 = 1234 is the published half and gives its effects", () => {
    expect(half.resolution).toBe(5);
    expect(disagreeing(asLaidOut(workedExample("reactor-half"), half))).toEqual([]);
  });
  // I = 12345 in the source: every product of two with the product of the other three.
  test("products of two are aliased with products of three only", () => {
    expect(byNumber(half.aliases ?? [], names)).toEqual([
      "12 = 345",
      "13 = 245",
      "14 = 235",
      "15 = 234",
      "23 = 145",
      "24 = 135",
      "25 = 134",
      "34 = 125",
      "35 = 124",
      "45 = 123",
    ]);
  });
});

describe("sonoluminescence, 2^(7−3) (NIST/SEMATECH e-Handbook, 5.6.2)", () => {
  const names = ["molarity", "solute", "pH", "gas", "water depth", "horn depth", "flask clamping"];
  // Generators of the source are 5 = 234, 6 = 134, 7 = 123; the tool makes the last three from 1·2·3, 1·2·4 and 1·3·4, so that
  // pH, common to all of the source's, stands first.
  const inToolsOrder = ["pH", "molarity", "solute", "gas", "flask clamping", "horn depth", "water depth"];
  const layout = layOut({ factors: inToolsOrder.map(quantity), layout: { kind: "fraction", runs: 16 } });

  test("coefficients and residual scatter are those printed", () => {
    expect(layout.resolution).toBe(4);
    expect(disagreeing(asLaidOut(workedExample("sonoluminescence-2-7-3"), layout))).toEqual([]);
  });
  test("alias strings follow from the generators printed", () => {
    expect(byNumber(layout.aliases ?? [], names)).toEqual([
      "12 = 37 = 56",
      "13 = 27 = 46",
      "14 = 36 = 57",
      "15 = 26 = 47",
      "16 = 25 = 34",
      "17 = 23 = 45",
      "24 = 35 = 67",
    ]);
  });
});

describe("fatigue, Plackett–Burman 12 (Hunter, Hodi and Eager 1982; Hamada and Wu 1992)", () => {
  const names = ["A", "B", "C", "D", "E", "F", "G", "8", "9", "10", "11"];
  const layout = layOut({ factors: names.map(quantity), layout: { kind: "plackett-burman" } });

  test("effects and shares explained are those printed", () => {
    expect(layout.runs).toHaveLength(12);
    expect(disagreeing(asLaidOut(workedExample("fatigue-plackett-burman-12"), layout))).toEqual([]);
  });
  // Hamada and Wu: in 12 runs each product of two leans on every other main effect by a third.
  test("every main effect is aliased by a third with each of the 45 products without it", () => {
    expect(layout.aliases).toHaveLength(11);
    for (const text of layout.aliases ?? []) {
      const shares = text.match(/[+−]0\.333 /g) ?? [];
      expect(shares).toHaveLength(45);
      expect(text.match(/[+−]\d/g)).toHaveLength(45);
    }
  });
});

describe("catapult, 2^(5−1) with centre runs (NIST/SEMATECH e-Handbook, 5.4.7.2)", () => {
  const names = ["height", "start", "bands", "length", "stop"];
  // Bands are counted and have no middle: two centre runs at each number of bands, as published.
  const factors = names.map((name) => (name === "bands" ? category(name) : quantity(name)));
  const layout = layOut({
    factors,
    layout: { kind: "fraction", resolution: 5, centrePoints: 2, aliasOrder: 3 },
  });

  test("coefficients, their errors and lack of fit are those printed", () => {
    expect(layout.runs).toHaveLength(20);
    expect(disagreeing(asLaidOut(workedExample("catapult-half-fraction"), layout))).toEqual([]);
  });
  test("no product of two is aliased with another or with a main effect, as said of resolution V", () => {
    expect(layout.resolution).toBe(5);
    const aliases = byNumber(layout.aliases ?? [], names);
    expect(aliases).toHaveLength(10);
    for (const text of aliases) expect(text).toMatch(/^\d\d = \d\d\d$/);
  });
});

describe("Box–Behnken, four factors in three blocks (Box and Behnken 1960)", () => {
  const names = ["x1", "x2", "x3", "x4"];
  const layout = layOut({ factors: names.map(quantity), layout: { kind: "box-behnken", blocks: 3 } });

  test("runs and blocks are those published, and so are the coefficients", () => {
    expect(layout.runs).toHaveLength(27);
    expect(disagreeing(asLaidOut(workedExample("box-behnken-4"), layout, { block: "block" }))).toEqual([]);
  });
});

describe("definitive screening, six factors (Jones and Nachtsheim 2011)", () => {
  const names = ["x1", "x2", "x3", "x4", "x5", "x6"];
  const layout = layOut({ factors: names.map(quantity), layout: { kind: "definitive-screening" } });
  // The published table, from memory (its balance and correlations are checked below): six runs, their mirrors, a centre run.
  const upper = [
    [0, 1, -1, -1, -1, -1],
    [1, 0, -1, 1, 1, -1],
    [-1, -1, 0, 1, -1, -1],
    [-1, 1, 1, 0, 1, -1],
    [1, -1, 1, -1, 0, -1],
    [1, 1, 1, 1, -1, 0],
  ];
  const published = [...upper, ...upper.map((row) => row.map((value) => 0 - value)), names.map(() => 0)];

  test("the runs are those published with the signs of x1 and x2 turned", () => {
    const laidOut = layout.runs.map(({ settings }) =>
      names.map((name, place) => (place < 2 ? 0 - Number(settings[name]) : Number(settings[name]))).join(),
    );
    expect(laidOut.sort()).toEqual(published.map((row) => row.map((value) => value + 0).join()).sort());
  });

  // The source prints the table and its correlations and no response; a known surface takes its place.
  test("main effects are found exactly beside squares and products that are left out", () => {
    const response = layout.runs.map(({ settings }) => {
      const [x1 = 0, x2 = 0, x3 = 0, x4 = 0] = names.map((name) => Number(settings[name]));
      return 20 + 3 * x1 - 2 * x4 + 1.5 * x1 ** 2 + 2.5 * x2 * x3;
    });
    const columns: TableColumn[] = [
      ...names.map((name) => ({ name, unit: "1", values: layout.runs.map((run) => run.settings[name]) })),
      { name: "y", unit: "1", values: response },
    ];
    const observations = observeTable({ columns }, { response: "y", factors: names });
    const effects = (terms: Parameters<typeof fitLinear>[1]) =>
      fitLinear(observations, { ...terms, coded: true });
    const found = effects({ model: "main" }).coefficients.slice(1);
    const expected = [3, 0, 0, -2, 0, 0];
    found.forEach(({ estimate }, place) => expect(estimate).toBeCloseTo(expected[place] ?? 0, 12));
    const whole = effects({ terms: [...names.map(main), squared("x1"), times("x2", "x3")] });
    expect(whole.coefficients.find(({ label }) => label === "x1²")?.estimate).toBeCloseTo(1.5, 11);
    expect(whole.coefficients.find(({ label }) => label === "x2 × x3")?.estimate).toBeCloseTo(2.5, 11);
  });

  // Squares correlate with one another by 1/3 − 1/(m − 1) = 0.1333, products by 0.5, a square and a product by 0.4655 at most.
  test("correlations of squares and products are those of the source", () => {
    const { terms, correlations } = termCorrelations(layout.runs, names.map(quantity), { model: "surface" });
    const kindOf = (label: string) =>
      label.includes("²") ? "square" : label.includes("×") ? "product" : "main";
    const largest: Record<string, number> = {};
    terms.forEach((one, row) =>
      terms.slice(0, row).forEach((other, column) => {
        const pair = [kindOf(one.label), kindOf(other.label)].sort().join(" and ");
        largest[pair] = Math.max(largest[pair] ?? 0, Math.abs(correlations[row]?.[column] ?? 0));
      }),
    );
    expect(largest["main and main"]).toBeLessThan(1e-12);
    expect(largest["main and square"]).toBeLessThan(1e-12);
    expect(largest["main and product"]).toBeLessThan(1e-12);
    expect(largest["square and square"]).toBeCloseTo(2 / 15, 12);
    expect(largest["product and product"]).toBeCloseTo(0.5, 12);
    expect(largest["product and square"]).toBeCloseTo(0.4655, 4);
  });
});
