import { describe, expect, test } from "vitest";
import { rankSum } from "../../../src/model/comparison/rank-sum.ts";
import { comparisonsByR } from "./by-r.ts";

/** Every way to share the values out between the samples, counted one by one. */
function bySharingOut(from: readonly number[], to: readonly number[]): number {
  const all = [...from, ...to];
  const rank = (value: number) =>
    all.filter((other) => other < value).length + (all.filter((other) => other === value).length + 1) / 2;
  const ranks = all.map(rank);
  const observed = ranks.slice(from.length).reduce((sum, one) => sum + one, 0);
  let [ways, below, above] = [0, 0, 0];
  for (let mask = 0; mask < 2 ** all.length; mask++) {
    const chosen = ranks.filter((_, i) => (mask >> i) & 1);
    if (chosen.length !== to.length) continue;
    const sum = chosen.reduce((total, one) => total + one, 0);
    ways += 1;
    if (sum <= observed + 1e-9) below += 1;
    if (sum >= observed - 1e-9) above += 1;
  }
  return Math.min(1, (2 * Math.min(below, above)) / ways);
}

describe("two samples by ranks", () => {
  test("p, shift and interval are those of R's wilcox.test where no values tie", () => {
    let compared = 0;
    for (const set of comparisonsByR().oneWay) {
      const group = (level: string) => set.value.filter((_, i) => set.group[i] === level);
      for (const wanted of set.wilcoxon) {
        const found = rankSum(group(wanted.from), group(wanted.to), 0.95);
        expect(found.shift).toBeCloseTo(wanted.shift, 9);
        expect(found.interval![0]).toBeCloseTo(wanted.low, 9);
        expect(found.interval![1]).toBeCloseTo(wanted.high, 9);
        expect(found.p / wanted.p).toBeCloseTo(1, 9);
        compared += 1;
      }
    }
    expect(compared).toBe(13);
  });

  test.each([
    [
      [1, 2, 2, 3],
      [2, 4, 4, 5],
    ],
    [
      [1, 1, 1],
      [1, 1, 2, 2],
    ],
    [
      [3, 1, 2],
      [9, 8, 7, 2],
    ],
    [
      [1, 1],
      [1, 1],
    ],
  ])("with ties p is that of every sharing out: %j and %j", (from, to) => {
    expect(rankSum(from, to, 0.95).p).toBeCloseTo(bySharingOut(from, to), 12);
  });

  test("large samples agree with R's normal approximation", () => {
    const from = Array.from({ length: 40 }, (_, i) => (i * 37) % 101);
    const to = Array.from({ length: 35 }, (_, i) => ((i * 53) % 97) + 10.5);
    const found = rankSum(from, to, 0.95);
    // R 4.2: wilcox.test(to, from, exact = FALSE)$p.value
    expect(found.p).toBeCloseTo(0.435060420202, 9);
    expect(found.exact).toBe(false);
    // R solves for the ends of the interval on a continuous scale; counted differences lie within one step of it.
    expect(found.interval![0]).toBeCloseTo(-8.5, 6);
    expect(found.interval![1]).toBeCloseTo(19.5, 6);
  });
});
