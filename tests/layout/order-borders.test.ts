import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layOut, type LayoutRequest } from "../../src/layout/index.ts";
import type { Factor, Run } from "../../src/trial/index.ts";
import { piecesOf, type BorderRules } from "../../src/layout/order/borders.ts";
import { coded, coolant, feed, speed } from "./factors.ts";

const shop = {
  held: {},
  cutter: { diameter: "80 mm" },
  pass: { length: "180 mm", width: "60 mm", approach: "40 mm", overtravel: "5 mm" },
} satisfies Partial<LayoutRequest>;

const minutes = (run: Run) => 225 / (Number(run.settings.feed) * Number(run.settings.speed));

function blocksOf(runs: readonly Run[]): readonly (readonly Run[])[] {
  return [...new Set(runs.map(({ block }) => block))].map((block) =>
    runs.filter((run) => run.block === block),
  );
}

describe("an edge that lasts so many passes", () => {
  test("gives a factorial blocks of its own that confound what matters least", () => {
    const { runs, orderRules, notes } = layOut({
      factors: coded(4),
      layout: { kind: "factorial", seed: 3, borders: { edge: { passes: 8 } } },
    });
    expect(blocksOf(runs).map(({ length }) => length)).toEqual([8, 8]);
    expect(orderRules).toEqual([
      "2 blocks of 8 runs each, cut one after another.",
      "The edge is changed before run 9: one lasts 8 passes.",
      "Each change begins a block of its own, 2 in all, and costs the error 1 degree of freedom; no main effect is mixed with what differs between blocks.",
      "Random order within each block, drawn from seed 3.",
    ]);
    expect(notes).toContain("Confounded with blocks: ABCD.");
  });

  test("cuts an order without such blocks where main effects stay balanced between its pieces", () => {
    const { runs, orderRules } = layOut({
      factors: [feed, coolant],
      layout: { kind: "factorial", levels: 3, replicates: 2, seed: 4, borders: { edge: { passes: 6 } } },
    });
    const blocks = blocksOf(runs);
    expect(blocks.map(({ length }) => length)).toEqual([6, 6, 6]);
    for (const block of blocks) {
      for (const level of coolant.levels)
        expect(block.filter((run) => run.settings.coolant === level)).toHaveLength(2);
    }
    expect(orderRules[0]).toBe("The edge is changed before runs 7 and 13: one lasts 6 passes.");
    expect(orderRules[1]).toBe(
      "Each change begins a block of its own, 3 in all, and costs the error 2 degrees of freedom; no main effect is mixed with what differs between blocks.",
    );
  });
});

test("an edge that lasts so many minutes of cut: no block takes more, whatever the order", () => {
  for (const order of ["random", "drift-proof", "fewest-changes"]) {
    const { runs } = layOut({
      ...shop,
      factors: [feed, speed],
      layout: { kind: "factorial", levels: 3, order, seed: 6, borders: { edge: { minutes: 7 } } },
    });
    const blocks = blocksOf(runs);
    expect(blocks.length).toBeGreaterThan(1);
    for (const block of blocks)
      expect(block.reduce((sum, run) => sum + minutes(run), 0)).toBeLessThanOrEqual(7);
  }
});

test("a shift goes on between passes; wear does not", () => {
  const plan = (borders: object) =>
    layOut({
      ...shop,
      budget: { minutesBetween: 10 },
      factors: [feed, speed],
      layout: { kind: "factorial", order: "as-listed", borders },
    });
  // 4 passes of 3.5, 1.2, 2.2 and 0.8 minutes: 7.7 of cut, and 30 minutes between them.
  expect(plan({ edge: { minutes: 20 } }).orderRules).toEqual([
    "One edge lasts all 4 runs (20 minutes of cut).",
    "Cut in the order listed.",
  ]);
  expect(plan({ shift: { minutes: 20 } }).orderRules[0]).toBe(
    "A shift begins before run 3: one lasts 20 minutes by the clock.",
  );
});

describe("warming up", () => {
  test("before run 1 is told with its settings, and is no run of the plan", () => {
    const { runs, orderRules } = layOut({
      factors: [feed, coolant],
      layout: { kind: "factorial", warmUp: { passes: 2 } },
    });
    expect(runs).toHaveLength(6);
    expect(orderRules[0]).toBe(
      "Before run 1, 2 passes are cut to warm the machine up, at feed 0.16 mm/rev and coolant dry; nothing is read from them.",
    );
  });

  test("that is analysed is the first block", () => {
    const { runs, orderRules } = layOut({
      factors: coded(3),
      layout: { kind: "factorial", replicates: 2, warmUp: { passes: 2, analysed: true } },
    });
    expect(runs.map(({ block }) => block)).toEqual([1, 1, ...Array.from({ length: 14 }, () => 2)]);
    expect(orderRules[0]).toBe("The first 2 runs warm the machine up and are a block by themselves.");
  });
});

describe("a whole plot", () => {
  const factors: readonly Factor[] = [feed, { ...speed, change: "hard" }, ...coded(1)];
  test("is not cut by a border that can fall before it", () => {
    const { runs, orderRules } = layOut({
      factors,
      layout: { kind: "factorial", replicates: 4, seed: 3, borders: { edge: { passes: 11 } } },
    });
    const blocks = blocksOf(runs);
    expect(blocks.map(({ length }) => length)).toEqual([8, 8, 8, 8]);
    expect(orderRules.some((rule) => rule.includes("inside a whole plot"))).toBe(false);
  });

  test("that no edge outlasts is cut, and the sheet says so", () => {
    const { orderRules } = layOut({
      factors,
      layout: { kind: "factorial", seed: 3, borders: { edge: { passes: 3 } } },
    });
    expect(orderRules.find((rule) => rule.includes("inside a set-up"))).toMatch(
      /^The borders? before runs? [\d, and]+ falls? inside a set-up: the hard factors stay as they are, and what differs between blocks is mixed into it\.$/,
    );
  });
});

describe("borders that can't be", () => {
  const refused = (borders: unknown, more: Partial<LayoutRequest> = shop) => {
    try {
      layOut({ ...more, factors: [feed, speed], layout: { kind: "factorial", borders } });
    } catch (error) {
      return (error as Error).message;
    }
    return "nothing";
  };
  test("say what would do", () => {
    expect(refused({ edge: { minutes: 2 } })).toBe(
      "layout.borders.edge.minutes: one edge lasts 2 minutes and the longest pass takes 3.52. Shorten the pass, raise the feed or the speed, or state at least 3.52 minutes.",
    );
    expect(refused({ shift: {} })).toBe(
      'layout.borders.shift: says neither passes nor minutes. Say how long one shift lasts, such as { "passes": 8 }.',
    );
    expect(refused({ edge: { minutes: 20 } }, {})).toBe(
      "layout.borders.edge.minutes: minutes of cut can't be reckoned: the trial does not state pass, cutter and speeds. State that, or say how many passes one edge lasts.",
    );
    expect(refused({ holder: { passes: 3 } })).toBe(
      'layout.borders: expected no "holder" here, got {"holder":{"passes":3}}.',
    );
  });
});

test("pieces never outlast what limits them, cover every place, and stop at the layout's own blocks", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.5, max: 4, noNaN: true }), { minLength: 1, maxLength: 40 }),
      fc.integer({ min: 1, max: 9 }),
      fc.double({ min: 4, max: 20, noNaN: true }),
      fc.integer({ min: 1, max: 12 }),
      (durations, passes, lasting, blockSize) => {
        const rules: BorderRules = {
          capacities: [
            { kind: "part", passes, minutes: Infinity, between: 0 },
            { kind: "edge", passes: Infinity, minutes: lasting, between: 0 },
          ],
          warmUpPasses: 0,
        };
        const blocks = durations.map((_, place) => Math.floor(place / blockSize));
        const pieces = piecesOf(durations, blocks, rules);
        const count = Math.max(...pieces) + 1;
        for (let piece = 0; piece < count; piece += 1) {
          const places = [...pieces].flatMap((own, place) => (own === piece ? [place] : []));
          expect(places.length).toBeGreaterThan(0);
          expect(places.length).toBeLessThanOrEqual(passes);
          expect(new Set(places.map((place) => blocks[place])).size).toBe(1);
          const taken = places.reduce((sum, place) => sum + (durations[place] ?? 0), 0);
          expect(taken).toBeLessThanOrEqual(lasting * (1 + 1e-9));
        }
      },
    ),
    { seed: 20261125, numRuns: 200 },
  );
});
