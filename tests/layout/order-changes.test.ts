import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import type { Run } from "../../src/trial/index.ts";
import { coded, feed, speed } from "./factors.ts";

function changes(runs: readonly Run[], name: string): number {
  return runs.filter((run, place) => place > 0 && run.settings[name] !== runs[place - 1]?.settings[name])
    .length;
}

function plan(factors: ReturnType<typeof coded>, layout: Record<string, unknown>) {
  return layOut({ factors, layout: { kind: "factorial", order: "fewest-changes", seed: 3, ...layout } });
}

describe("the fewest changes of settings", () => {
  test("with any drift allowed, a 2^4 is cut by one change a step: 15", () => {
    const { runs, orderRules } = plan(coded(4), { changes: { allowedCorrelation: 1 } });
    const total = coded(4).reduce((sum, { name }) => sum + changes(runs, name), 0);
    expect(total).toBe(15);
    expect(orderRules[0]).toMatch(
      /^Fewest changes of settings by a search from seed 3: 15 from run to run \(.*\); the drift-proof order has \d+\.$/,
    );
  });

  test("a factor that weighs more is changed once", () => {
    const { runs } = plan(coded(4), { changes: { allowedCorrelation: 1, weights: { B: 20 } } });
    expect(changes(runs, "B")).toBe(1);
  });

  test("2^3: no order of its 40,320 has fewer changes for the same loss, by trying them all", () => {
    const allowed = 0.3;
    const { runs } = plan(coded(3), { changes: { allowedCorrelation: allowed } });
    const total = coded(3).reduce((sum, { name }) => sum + changes(runs, name), 0);
    expect(total).toBe(fewestOfThree(allowed));
  });

  test("says so where no order keeps to what is allowed", () => {
    const { orderRules } = plan(coded(3), { changes: { allowedCorrelation: 0.01 } });
    expect(orderRules[1]).toMatch(
      /^No order was found that keeps drift to the allowed correlation of 0\.01; in this one it is 0\.\d+: .*\. Allow more, or take more runs\.$/,
    );
  });

  test("are refused for another order", () => {
    expect(() => plan(coded(2), { order: "random", changes: {} })).toThrow(
      'layout.changes: the order "random" does not look at changes of settings. Take "order": "fewest-changes", or leave "changes" out.',
    );
  });
});

/** Fewest sign changes over all orders of a 2³ whose main effects have at most this correlation with steady and bending drift. */
function fewestOfThree(allowed: number): number {
  const steady = Array.from({ length: 8 }, (_, place) => (place - 3.5) / Math.sqrt(42));
  const bending = Array.from({ length: 8 }, (_, place) => ((place - 3.5) ** 2 - 5.25) / Math.sqrt(168));
  let fewest = Infinity;
  const visit = (order: readonly number[], used: number, sums: readonly number[], count: number): void => {
    if (count >= fewest) return;
    if (order.length === 8) {
      // Columns have length √8.
      if (sums.every((sum) => Math.abs(sum) / Math.sqrt(8) <= allowed + 1e-12)) fewest = count;
      return;
    }
    const place = order.length;
    for (let point = 0; point < 8; point += 1) {
      if ((used >> point) & 1) continue;
      const before = order[place - 1];
      const flipped = before === undefined ? 0 : before ^ point;
      const step = (flipped & 1) + ((flipped >> 1) & 1) + (flipped >> 2);
      const next = [0, 1, 2].flatMap((factor) => {
        const sign = (point >> factor) & 1 ? 1 : -1;
        return [
          (sums[2 * factor] ?? 0) + sign * (steady[place] ?? 0),
          (sums[2 * factor + 1] ?? 0) + sign * (bending[place] ?? 0),
        ];
      });
      visit([...order, point], used | (1 << point), next, count + step);
    }
  };
  visit([], 0, [0, 0, 0, 0, 0, 0], 0);
  return fewest;
}

describe("a random order with few large changes", () => {
  const factors = [feed, speed, ...coded(1)];
  const asked = (most: number, seed: number, order = "random") =>
    layOut({
      factors,
      layout: {
        kind: "factorial",
        replicates: 2,
        order,
        seed,
        largeChanges: [{ factor: "speed", ratio: 1.5, most }],
      },
    });

  test("keeps to the limit, whatever the seed, and says so", () => {
    for (let seed = 1; seed <= 6; seed += 1) {
      const { runs, orderRules } = asked(3, seed);
      const count = changes(runs, "speed");
      expect(count).toBeLessThanOrEqual(3);
      expect(orderRules).toEqual([
        `Random order, drawn from seed ${seed}.`,
        `At most 3 changes of speed by 1.5 times or more: this order has ${count}.`,
      ]);
    }
  });

  test("is the same for the same seed and another for another seed", () => {
    expect(asked(3, 7).runs).toEqual(asked(3, 7).runs);
    expect(asked(3, 7).runs).not.toEqual(asked(3, 8).runs);
  });

  test("holds for a drift-proof order as well", () => {
    expect(changes(asked(5, 2, "drift-proof").runs, "speed")).toBeLessThanOrEqual(5);
  });

  test("asked for less than can be had is refused with the number that can", () => {
    expect(() => asked(0, 1)).toThrow(
      "layout.largeChanges: at most 0 changes of speed by 1.5 times or more are asked for; this order has 1. The fewest found: 1 change of speed by 1.5 times or more. State at least that many.",
    );
  });

  test("leaves small changes alone: 800 to 1250 rev/min is less than twice", () => {
    const { runs } = layOut({
      factors,
      layout: { kind: "factorial", seed: 4, largeChanges: [{ factor: "speed", ratio: 2, most: 0 }] },
    });
    expect(changes(runs, "speed")).toBeGreaterThan(1);
  });

  test("says what a large change is, or is refused", () => {
    const refused = (limit: object) => () =>
      layOut({ factors, layout: { kind: "factorial", largeChanges: [limit] } });
    expect(refused({ factor: "speed", most: 2 })).toThrow(
      'layout.largeChanges: say what a large change of speed is, by either "ratio" (such as 1.5) or "step" in rev/min.',
    );
    expect(refused({ factor: "A", ratio: 2, most: 2 })).toThrow(
      'layout.largeChanges: A has settings that are not above zero, which have no ratio. Give "step".',
    );
    expect(refused({ factor: "coolant", most: 2 })).toThrow(
      'layout.largeChanges: "coolant" is not a factor of this trial. It has feed, speed and A.',
    );
  });
});

describe("thousands of runs", () => {
  const many = (largeChanges: object, order = "random") =>
    layOut({
      factors: coded(3),
      layout: { kind: "factorial", replicates: 250, order, seed: 5, largeChanges: [largeChanges] },
    });

  test("keep to a limit that a search by chance never meets, for like settings can stand together", () => {
    for (const order of ["random", "drift-proof"]) {
      const { runs } = many({ factor: "B", step: 2, most: 20 }, order);
      expect(runs).toHaveLength(2000);
      expect(changes(runs, "B")).toBeLessThanOrEqual(20);
    }
  });

  test("asked for less than can be had are told the fewest, which works", () => {
    expect(() => many({ factor: "B", step: 2, most: 0 })).toThrow(
      "layout.largeChanges: at most 0 changes of B by 2 or more are asked for; this order has 1. The fewest found: 1 change of B by 2 or more. State at least that many.",
    );
    expect(changes(many({ factor: "B", step: 2, most: 1 }).runs, "B")).toBe(1);
  });

  test("are told where the search for few changes was too short to be trusted", () => {
    const { runs, orderRules } = plan(coded(3), { replicates: 250, changes: { allowedCorrelation: 1 } });
    expect(orderRules[2]).toBe(
      "With 2,000 runs the search was kept short (1,666 moves from each start): an order with fewer changes may well exist.",
    );
    // Eight settings, each cut in one go, one factor changed at a time.
    const total = coded(3).reduce((sum, { name }) => sum + changes(runs, name), 0);
    expect(total).toBe(7);
  });
});
