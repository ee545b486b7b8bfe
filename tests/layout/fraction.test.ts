import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { coded, coolant, edge, feed, speed } from "./factors.ts";

const quantities = (names: readonly string[]): readonly Factor[] =>
  coded(names.length).map((factor, index) => ({ ...factor, name: names[index] ?? "" }));

const planned = (factors: readonly Factor[], layout: Record<string, unknown>) =>
  layOut({ factors, layout: { kind: "fraction", ...layout } });

const refusal = (factors: readonly Factor[], layout: Record<string, unknown>) => {
  try {
    planned(factors, layout);
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};

describe("a fraction of minimum aberration", () => {
  // Counted from the runs, so that no table and no generator is trusted.
  const { fractions } = JSON.parse(
    readFileSync(new URL("../fixtures/layouts/word-lengths.json", import.meta.url), "utf8"),
  ) as { fractions: { runs: number; factors: number; words: number[] }[] };

  test.each(fractions)(
    "of $factors factors in $runs runs has the published word lengths",
    ({ runs, factors, words }) => {
      const layout = planned(coded(factors), { runs, order: "as-listed" });
      expect(layout.runs).toHaveLength(runs);
      const rows = layout.runs.map((run) =>
        coded(factors).map((factor) => Number(run.settings[factor.name])),
      );
      expect(wordCounts(rows).slice(0, words.length)).toEqual(words);
      expect(layout.resolution).toBe(words.findIndex((count) => count > 0) + 3);
    },
  );

  test("by resolution takes the fewest runs that reach it", () => {
    expect(planned(coded(7), { resolution: 3 }).runs).toHaveLength(8);
    expect(planned(coded(7), { resolution: 4 }).runs).toHaveLength(16);
    expect(planned(coded(5), { resolution: 5 }).runs).toHaveLength(16);
    expect(planned(coded(8), { resolution: 5 }).runs).toHaveLength(64);
    expect(planned(coded(8), {}).resolution).toBe(4);
  });
});

/** Words of length 3 and up, from the distances of all runs to the first (Krawtchouk, with plain binomials). */
function wordCounts(rows: readonly (readonly number[])[]): number[] {
  const factors = rows[0]?.length ?? 0;
  const counts = new Array<number>(factors + 1).fill(0);

  const distances = new Array<number>(factors + 1).fill(0);
  const first = rows[0] ?? [];
  for (const row of rows) {
    const distance = row.filter((value, index) => value !== first[index]).length;
    distances[distance] = (distances[distance] ?? 0) + 1;
  }
  for (let word = 0; word <= factors; word += 1) {
    let sum = 0;
    distances.forEach((count, distance) => {
      for (let inside = 0; inside <= word; inside += 1) {
        const term = binomial(distance, inside) * binomial(factors - distance, word - inside);
        sum += count * (inside % 2 === 0 ? term : -term);
      }
    });
    counts[word] = sum / rows.length;
  }
  return counts.slice(3);
}

function binomial(n: number, k: number): number {
  if (k < 0 || k > n) return 0;
  let product = 1;
  for (let index = 0; index < k; index += 1) product = (product * (n - index)) / (index + 1);
  return Math.round(product);
}

describe("generators and aliases", () => {
  // Box, Hunter and Hunter, Statistics for Experimenters: the bicycle, 2^(7−4), generators 4 = 12, 5 = 13, 6 = 23, 7 = 123.
  test("of the bicycle are those of the book", () => {
    const layout = planned(quantities(["1", "2", "3", "4", "5", "6", "7"]), {
      generators: ["4 = 12", "5 = 13", "6 = 23", "7 = 123"],
    });
    expect(layout.resolution).toBe(3);
    expect(layout.generators).toEqual(["4 = 12", "5 = 13", "6 = 23", "7 = 123"]);
    expect(layout.aliases).toEqual([
      "1 = 24 = 35 = 67",
      "2 = 14 = 36 = 57",
      "3 = 15 = 26 = 47",
      "4 = 12 = 37 = 56",
      "5 = 13 = 27 = 46",
      "6 = 17 = 23 = 45",
      "7 = 16 = 25 = 34",
    ]);
  });

  // NIST/SEMATECH e-Handbook 5.6.2 (sonoluminescence): 2^(7−3), 5 = 234, 6 = 134, 7 = 123.
  test("of the sonoluminescence trial are those of the handbook", () => {
    const layout = planned(quantities(["1", "2", "3", "4", "5", "6", "7"]), {
      generators: ["5=234", "6=134", "7=123"],
    });
    expect(layout.aliases).toEqual([
      "12 = 37 = 56",
      "13 = 27 = 46",
      "14 = 36 = 57",
      "15 = 26 = 47",
      "16 = 25 = 34",
      "17 = 23 = 45",
      "24 = 35 = 67",
    ]);
    expect(layout.definingRelation).toEqual(["1237", "1256", "1346", "1457", "2345", "2467", "3567"]);
  });

  // The reactor, same book, chapter 12: the half with product +1 leaves every main effect and product of two clear.
  test("of the reactor's half fraction leave nothing of low order aliased", () => {
    const layout = planned(quantities(["1", "2", "3", "4", "5"]), { runs: 16 });
    expect(layout.generators).toEqual(["5 = 1234"]);
    expect(layout.aliases).toEqual([]);
    expect(layout.notes).toEqual([
      "Every main effect is clear of products of two factors.",
      "Every product of two factors is clear of main effects and of other such products.",
    ]);
  });

  test("are written in factor names, with signs", () => {
    const layout = planned([feed, speed, edge, { ...edge, name: "coolant", levels: ["dry", "flood"] }], {
      generators: ["coolant = −feed × speed × edge"],
    });
    expect(layout.generators).toEqual(["coolant = −feed × speed × edge"]);
    expect(layout.aliases?.[0]).toBe("feed × speed = −edge × coolant");
  });

  test("hold in the runs: every alias chain is one column, sign and all", () => {
    fc.assert(
      fc.property(fc.integer({ min: 4, max: 9 }), fc.integer({ min: 1, max: 8 }), (factors, part) => {
        const runs = factors > 7 ? 16 : 8;
        const layout = planned(coded(factors), {
          runs,
          part: Math.min(part, 2 ** (factors - Math.log2(runs))),
        });
        for (const chain of layout.aliases ?? []) {
          const columns = chain
            .split(" = ")
            .map((effect) =>
              layout.runs.map((run) =>
                [...effect].reduce(
                  (product, letter) => product * (letter === "−" ? -1 : Number(run.settings[letter])),
                  1,
                ),
              ),
            );
          for (const column of columns) expect(column).toEqual(columns[0]);
        }
      }),
      { seed: 20261125, numRuns: 40 },
    );
  });

  test("of all parts together are the full factorial, each run once", () => {
    const parts = [1, 2, 3, 4].flatMap((part) => planned(coded(5), { runs: 8, part }).runs);
    expect(new Set(parts.map((run) => Object.values(run.settings).join())).size).toBe(32);
  });
});

describe("a fold-over", () => {
  test("of all factors frees main effects from products of two", () => {
    const once = planned(coded(7), { runs: 8 });
    const twice = planned(coded(7), { runs: 8, foldOver: "all", order: "as-listed" });
    expect(once.resolution).toBe(3);
    expect(twice.resolution).toBe(4);
    expect(twice.runs).toHaveLength(16);
    const [first, second] = [twice.runs.slice(0, 8), twice.runs.slice(8)];
    expect(
      second.map((run) =>
        Object.values(run.settings)
          .map((level) => 0 - Number(level))
          .join(),
      ),
    ).toEqual(first.map((run) => Object.values(run.settings).join()));
  });

  test("of one factor frees that factor and all its products", () => {
    const { notes } = planned(coded(7), { runs: 8, foldOver: "A" });
    expect(notes).toEqual([
      "Clear of products of two factors: A.",
      "Products of two factors that are clear of others: AB, AC, AD, AE, AF and AG.",
    ]);
  });

  test("that would cut the same runs again is refused", () => {
    expect(refusal(coded(4), { runs: 8, foldOver: "all" })).toBe(
      'layout.foldOver: every word of this fraction is even, so folding over all factors cuts the same runs again. Fold over one factor, or use "replicates": 2.',
    );
  });
});

describe("blocks", () => {
  test("confound the product of highest order", () => {
    const factors = quantities(["N", "P", "K"]);
    // Yates 1937: N, P and K in blocks of four, the product of all three confounded.
    const layout = layOut({ factors, layout: { kind: "factorial", replicates: 3, blocks: 6 } });
    expect(layout.notes.filter((note) => note.includes("NPK"))).toHaveLength(3);
    for (let block = 1; block <= 6; block += 1) {
      const signs = layout.runs
        .filter((run) => run.block === block)
        .map((run) => factors.reduce((product, factor) => product * Number(run.settings[factor.name]), 1));
      expect(signs).toHaveLength(4);
      expect(new Set(signs).size).toBe(1);
    }
  });

  test("leave main effects balanced in every block", () => {
    for (const [factors, runs, blocks] of [
      [5, 16, 2],
      [6, 32, 4],
      [7, 32, 4],
    ] as const) {
      const layout = planned(coded(factors), { runs, blocks });
      for (let block = 1; block <= blocks; block += 1) {
        const own = layout.runs.filter((run) => run.block === block);
        expect(own).toHaveLength(runs / blocks);
        for (const factor of coded(factors)) {
          expect(own.reduce((sum, run) => sum + Number(run.settings[factor.name]), 0)).toBe(0);
        }
      }
    }
  });

  test("that can't be had are refused with those that can", () => {
    expect(refusal(coded(5), { runs: 16, blocks: 3 })).toBe(
      'layout.blocks: 16 runs of a two-level "fraction" can\'t be cut into 3 blocks. Take 2, 4, 8, or as many replicates as blocks.',
    );
  });
});

describe("what a fraction refuses", () => {
  test("runs that are no power of two, with those that work", () => {
    expect(refusal(coded(6), { runs: 12 })).toBe(
      'layout.runs: 12 runs can\'t hold a fraction of 6 factors; these can: 8, 16, 32. For other multiples of 4 use "plackett-burman".',
    );
  });
  test("a resolution that can't be had, with the one that can", () => {
    expect(refusal(coded(15), { resolution: 6 })).toBe(
      'layout.resolution: 15 factors in up to 256 runs reach resolution 5, not 6. State "resolution": 5, or take fewer factors.',
    );
  });
  test("generators that contradict", () => {
    expect(refusal(coded(5), { generators: ["D = AB", "E = AB"] })).toBe(
      'layout.generators: "E = AB" can\'t stand: E would always move with D. Give each generated factor its own product of two or more basic factors (here A, B and C).',
    );
    expect(refusal(coded(5), { generators: ["D = AB", "E = AD"] })).toBe(
      'layout.generators: "E = AD" can\'t stand: D is generated itself. Give each generated factor its own product of two or more basic factors (here A, B and C).',
    );
    expect(refusal(coded(4), { generators: ["D = ABX"] })).toBe(
      'layout.generators: "D = ABX" can\'t be read. Write "D = A × B × C"; the factors are A, B, C and D.',
    );
  });
  test("a category of three levels", () => {
    expect(refusal([feed, speed, coolant, edge], { runs: 8 })).toBe(
      'layout "fraction": coolant has 3 levels, and this kind takes two. Leave out 1 of them, or use "orthogonal-array", "factorial" or "optimal".',
    );
  });
});
